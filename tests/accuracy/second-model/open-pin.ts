import {Wander} from '../../../source/simulator/random.ts';
import type {Take} from './take.ts';

/**
 * What an open pin does. All shares of full scale but the ghost's gain. The converter keeps the charge of the pin read
 * before (check-values A12, P13): what is left of it is the ghost; the rest is the pin's own level, which approaches a plateau.
 */
export type OpenPin = {
	/** Share of the pin read before that is still there. */
	readonly ghost: number;
	readonly plateau: number;
	/** Above the plateau at the beginning, and how fast it sinks to it: 390 of 1023 sink to 310 in seconds (H-real). */
	readonly above: number;
	readonly settleSeconds: number;
	/** rms of its wander and how long that remembers, seconds. */
	readonly wander: number;
	readonly wanderSeconds: number;
	/** Peak of the mains picked up, and its frequency. */
	readonly hum: number;
	readonly mainsHertz: number;
	/** rms between frames. */
	readonly jagged: number;
	/** Slow ups and downs, peak and frequency. */
	readonly sway: readonly {readonly peak: number; readonly hertz: number}[];
};

export const stillPin: OpenPin = {
	ghost: 0,
	plateau: 0.31,
	above: 0,
	settleSeconds: 1,
	wander: 0,
	wanderSeconds: 1,
	hum: 0,
	mainsHertz: 50,
	jagged: 0,
	sway: [],
};

/**
 * Takes the wire off one pin for some frames. The readings must be converted, and pins read before it opened already:
 * a ghost copies what was read, not what should have been.
 */
export function openPin(take: Take, name: string, pin: OpenPin, first = 0, end = take.count): void {
	const {random, rate, glove} = take;
	const names = [...take.readings.keys()];
	const before = names[names.indexOf(name) - 1];
	const read = before === undefined ? undefined : take.reading(before);
	const reading = take.reading(name);
	const wander = new Wander(random, pin.wander, pin.wanderSeconds);
	const phase = random.uniform(0, 2 * Math.PI);
	const hertz = pin.mainsHertz * (1 + random.uniform(-0.002, 0.002));
	for (let k = first; k < end; k++) {
		const t = k / rate;
		const own = pin.plateau + pin.above * Math.exp(-(t - first / rate) / pin.settleSeconds) + wander.at(t);
		const swaying = pin.sway.reduce((sum, {peak, hertz}) => sum + peak * Math.sin(2 * Math.PI * hertz * t + phase), 0);
		const level = own + swaying + pin.hum * Math.sin(2 * Math.PI * hertz * t + phase) + random.normal(0, pin.jagged);
		const held = read === undefined ? 0 : pin.ghost * read[k];
		const share = read === undefined ? 1 : 1 - pin.ghost;
		// The converter's own noise stays, less where the pin only copies what had noise already.
		reading[k] = held + share * level * glove.fullScale + random.normal(0, glove.noiseCounts * 0.4);
	}
}
