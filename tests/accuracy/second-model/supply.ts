import type {Random} from '../../../source/simulator/random.ts';
import type {Take} from './take.ts';

/** Does something to one level, frame by frame, within some stretch of time. */
export function disturb(
	take: Take,
	name: string,
	by: (level: number, k: number) => number,
	from = 0,
	to = take.seconds,
): void {
	const level = take.level(name);
	const end = Math.min(take.count, Math.ceil(to * take.rate));
	for (let k = Math.max(0, Math.ceil(from * take.rate)); k < end; k++) level[k] = by(level[k], k);
}

/** The supply of all pots leaps from frame to frame: every level by the same share of itself. */
export function shakeSupply(
	take: Take,
	share: number,
	stretches: readonly (readonly [from: number, to: number])[],
): void {
	const {random} = take;
	for (const [from, to] of stretches) {
		const leaps = Float64Array.from({length: take.count}, () => random.normal(0, share));
		for (const name of take.levels.keys()) disturb(take, name, (level, k) => level * (1 + leaps[k]), from, to);
	}
}

/** Mains picked up by one channel that is wired otherwise. Peak as a share of full scale. */
export function hum(take: Take, name: string, peak: number, hertz: number, from = 0): void {
	const phase = take.random.uniform(0, 2 * Math.PI);
	disturb(take, name, (level, k) => level + peak * Math.sin((2 * Math.PI * hertz * k) / take.rate + phase), from);
}

/** 50 or 60 Hz, whichever these frames still show as something quick; not so near to half the frame rate that it beats. */
export function visibleMains(random: Random, rate: number): number {
	const alias = (hertz: number): number => Math.abs(hertz - rate * Math.round(hertz / rate));
	const seen = [50, 60].filter(hertz => alias(hertz) > 4 && alias(hertz) < 0.46 * rate);
	return (seen.length === 0 ? 60 : random.pick(seen)) * (1 + random.uniform(-0.001, 0.001));
}
