import type {AnalogFeatures} from './analog-features.ts';
import type {FrameHistory} from './frame-history.ts';
import type {LinkFeatures} from './link-features.ts';
import {aliasOf, fitLine, type Line} from './spectrum.ts';

/** Mains frequencies of the world. */
export const mainsHertz = [50, 60] as const;

/** Grid frequencies stay within about ±0.2 Hz (common practice); steps are half a line's width over two seconds. */
const detune = [0, -0.25, 0.25];

/** An alias this close to zero is a slow drift or a constant: hum can't be told there. */
export const leastAliasHertz = 2;

/** Readings per search: enough for a clear line, bounded for the cost. */
const mostReadings = 256;
const windowSeconds = 2;

/** Below this noise (share of full scale, rms) there is no hum to look for: half of the definition's must-not, as rms. */
const leastNoiseShare = 0.0017;

/**
 * Which mains frequencies cannot be told at a frame rate, because sampling turns them into a constant or a slow drift:
 * `50`, `60`, both, or none.
 */
export function hiddenMains(framesPerSecond: number): number[] {
	return mainsHertz.filter(frequency => aliasOf(frequency, framesPerSecond) < leastAliasHertz);
}

export type Hum = {
	/** 50 or 60; 0 where both would look the same at this frame rate. */
	readonly mains: number;
	/** Peak, counts. */
	readonly amplitude: number;
	/** Share of the readings' variance that the mains line and its harmonics explain. */
	readonly share: number;
	/** Where the line appears at this frame rate, Hz. */
	readonly alias: number;
	readonly framesPerSecond: number;
	/** True where a harmonic was found too. */
	readonly harmonic: boolean;
	/** Blocks seen in a row with the line. */
	readonly streak: number;
};

/** Looks for mains hum on the channels that are noisy while they don't travel. */
export class HumSearch {
	/** The latest answer per channel; undefined where there is none. */
	readonly found: (Hum | undefined)[];
	private readonly times = new Float64Array(mostReadings);
	private readonly even = new Float64Array(mostReadings);
	private readonly readings = new Float64Array(mostReadings);

	constructor(channels: number) {
		this.found = new Array(channels).fill(undefined);
	}

	close(analog: AnalogFeatures, link: LinkFeatures, history: FrameHistory): void {
		const {blocks} = analog;
		const newest = blocks.count - 1;
		if (newest < 3 || newest % 2 === 1) return;
		const least = leastNoiseShare * analog.scale.fullScale;
		for (let a = 0; a < analog.columns.length; a++) {
			if (!(blocks.noise[blocks.at(newest, a)] >= least) || !this.atRest(analog, newest, a)) {
				this.found[a] = undefined;
				continue;
			}
			const count = this.gather(analog, history, a, blocks.end[blocks.slot(newest)]);
			if (count < 16) continue;
			const hum = this.search(count, link, this.found[a]?.streak ?? 0);
			this.found[a] = hum;
		}
	}

	/** Hum is looked for where block means stand still: three of the last four blocks settled. */
	private atRest(analog: AnalogFeatures, newest: number, a: number): boolean {
		let settled = 0;
		for (let back = 0; back < 4; back++) settled += analog.blocks.settled[analog.blocks.at(newest - back, a)];
		return settled >= 3;
	}

	/** The latest readings of a channel with their times; every so many left out would alias: the newest are taken. */
	private gather(analog: AnalogFeatures, history: FrameHistory, a: number, end: number): number {
		const first = Math.max(history.firstAt(end - windowSeconds), history.count - mostReadings);
		let count = 0;
		const column = analog.columns[a];
		for (let frame = first; frame < history.count; frame++) {
			const reading = history.values[history.base(frame) + column];
			if (Number.isNaN(reading)) continue;
			this.times[count] = history.time(frame);
			this.readings[count] = reading;
			count++;
		}
		// The board samples evenly; arrival wobbles. Both clocks are tried and the clearer line is believed.
		const start = this.times[0];
		const step = count > 1 ? (this.times[count - 1] - start) / (count - 1) : 0;
		for (let i = 0; i < count; i++) this.even[i] = start + i * step;
		return count;
	}

	private search(count: number, link: LinkFeatures, streak: number): Hum | undefined {
		const {times, even, readings} = this;
		const framesPerSecond = (count - 1) / (times[count - 1] - times[0]);
		if (!(framesPerSecond > 0) || !Number.isFinite(framesPerSecond)) return undefined;
		let best: Line | undefined;
		let mains = 0;
		let clock: Float64Array = times;
		const clocks = link.timing === 'measured' && link.spacingKnown ? [times, even] : [even];
		for (const base of mainsHertz) {
			if (aliasOf(base, framesPerSecond) < leastAliasHertz) continue;
			// A quick look first: where the nominal frequency explains next to nothing, its neighbours won't either.
			const glance = fitLine(even, readings, count, base);
			if (glance === undefined || glance.share < 0.1) {
				if (clocks.length === 1) continue;
				const arrival = fitLine(times, readings, count, base);
				if (arrival === undefined || arrival.share < 0.1) continue;
			}
			for (const off of detune) {
				for (const candidate of clocks) {
					const line = fitLine(candidate, readings, count, base + off);
					if (line !== undefined && (best === undefined || line.share > best.share)) {
						best = line;
						mains = base;
						clock = candidate;
					}
				}
			}
		}
		if (best === undefined) return undefined;
		const other = mains === 50 ? 60 : 50;
		const same = Math.abs(aliasOf(mains, framesPerSecond) - aliasOf(other, framesPerSecond)) < 0.75;
		// Harmonics of the line belong to it: mains picked up by a bare wire is far from a sine.
		let share = best.share;
		let harmonic = false;
		for (const order of [2, 3]) {
			const frequency = best.frequency * order;
			if (aliasOf(frequency, framesPerSecond) < leastAliasHertz) continue;
			const overtone = fitLine(clock, readings, count, frequency);
			if (
				overtone === undefined ||
				Math.abs(aliasOf(frequency, framesPerSecond) - aliasOf(best.frequency, framesPerSecond)) < 1
			)
				continue;
			// A chance line in white noise explains 2/n of the variance; five times that is no chance.
			if (overtone.share > 10 / count) {
				harmonic = true;
				share += overtone.share;
			}
		}
		return {
			mains: same ? 0 : mains,
			amplitude: best.amplitude,
			share: Math.min(1, share),
			alias: aliasOf(best.frequency, framesPerSecond),
			framesPerSecond,
			harmonic,
			streak: best.share >= 0.3 ? streak + 1 : 0,
		};
	}
}
