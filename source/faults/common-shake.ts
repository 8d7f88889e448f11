import {BlockHistory} from '../features/block-history.ts';
import type {Features} from '../features/features.ts';
import {countTurns} from './count-turns.ts';

/** What all analog channels do together while none of them travels. */
export type CommonShake = {
	/** Channels that read high enough to show it. */
	readonly channels: number;
	/** Mean correlation of all pairs; 0 where it is not like a supply anyway. */
	readonly correlation: number;
	/** Largest rms among the channels, counts. */
	readonly rms: number;
	/** rms as a share of the reading, common to all. */
	readonly depth: number;
	readonly reversalsPerSecond: number;
	/** Quick, small and in proportion to the level: a supply, not a hand. */
	readonly likeSupply: boolean;
	readonly since: number;
};

/** A second of readings is looked at. */
const windowSeconds = 1;

/** The quick look takes the last half second, and channels that read this much: below it a count is more than the shaking. */
const quickSeconds = 0.5;
const quickLevel = 0.08;

/** Jitter, as a share of the frame spacing, from which frame-to-frame bends are no longer the readings' own. */
const unevenShare = 0.15;

/** A channel must read at least this much of full scale to show a shaking supply: 4 % of it is then 0.6 % FS. */
const leastLevel = 0.12;

/** More travel than this within the second is a movement. */
const mostQuickRange = 0.5;

/** Turns of the common signal per second: the quickest hand makes 14 (7 Hz), and its tremor (8–12 Hz) is below 0.25 % FS. */
const beyondHand = 18;

/**
 * Looks at the last second of all analog channels. Undefined where fewer than three read high enough, or where any of
 * them travels.
 */
export function commonShake(features: Features): CommonShake | undefined {
	const slow = shakeAtRest(features);
	if (slow?.likeSupply) return slow;
	const quick = quickShake(features);
	return quick?.likeSupply || slow === undefined ? quick : slow;
}

/**
 * Frame-to-frame shaking, which shows during movements as well: how far each reading lies from the mean of the ones
 * before and after it, as a share of its level, is the same for all channels on a shaking supply. For white noise that
 * distance is √1.5 of the noise, and the next one tends the other way (correlation −2/3); a movement's goes on.
 */
function quickShake(features: Features): CommonShake | undefined {
	const {analog, history, now, scale} = features;
	const {blocks, columns} = analog;
	if (columns.length < 3 || (features.framesPerSecond ?? 0) < 50) return undefined;
	// Damaged lines make all channels jump at once.
	if (features.link.ticks.total(features.link.ticks.badLines, 4) > 0) return undefined;
	// Sampled at uneven times a movement of the whole hand bends all readings alike.
	const {ticks, nominal} = features.link;
	if (
		ticks.total(ticks.jitter, 4) > unevenShare * nominal * ticks.total(ticks.spaced, 4) &&
		features.analog.blocks.moving[blocks.at(blocks.count - 1, features.hand.fingers[0] ?? 0)] === 1
	)
		return undefined;
	// At least two channels must be rough, or there is nothing to share.
	let rough = 0;
	for (let a = 0; a < columns.length; a++)
		if (blocks.rough[blocks.at(blocks.count - 1, a)] >= 0.0025 * scale.fullScale) rough++;
	if (rough < 2) return undefined;
	const first = Math.max(history.oldest + 1, history.firstAt(now - quickSeconds));
	const count = history.count - 1 - first;
	if (count < 12) return undefined;
	const {values} = history;
	const bend = (frame: number, column: number): number => {
		const before = values[history.base(frame - 1) + column];
		const at = values[history.base(frame) + column];
		const level = at - scale.railLow;
		return level < quickLevel * scale.fullScale
			? Number.NaN
			: (at - (before + values[history.base(frame + 1) + column]) / 2) / level;
	};
	const energies = new Float64Array(columns.length);
	const frames = new Int32Array(columns.length);
	let shared = 0;
	let spread = 0;
	let turning = 0;
	let last = 0;
	const means: number[] = [];
	let level = 0;
	for (let frame = first; frame < history.count - 1; frame++) {
		let sum = 0;
		let squares = 0;
		let members = 0;
		for (let a = 0; a < columns.length; a++) {
			const column = columns[a];
			const value = bend(frame, column);
			if (Number.isNaN(value)) continue;
			energies[a] += value * value;
			frames[a]++;
			sum += value;
			squares += value * value;
			members++;
			level = Math.max(level, values[history.base(frame) + column] - scale.railLow);
		}
		if (members < 3) continue;
		const mean = sum / members;
		shared += mean * mean;
		spread += Math.max(0, squares / members - mean * mean);
		turning += mean * last;
		last = mean;
		means.push(Math.abs(mean));
	}
	const used = means.length;
	if (used < 12 || shared === 0) return undefined;
	const depth = Math.sqrt(shared / used / 1.5);
	// A shaking supply shows in most frames; a few damaged or missing ones do not make one. The median tells: it is
	// 0.67 σ for anything like noise.
	means.sort((one, other) => one - other);
	const typical = means[used >> 1] / 0.6745 / Math.sqrt(1.5);
	return {
		channels: columns.length,
		correlation: shared / (shared + spread),
		rms: typical * level,
		depth: typical,
		reversalsPerSecond: (features.framesPerSecond ?? 0) / 2,
		likeSupply: turning / shared <= -0.25 && typical >= 0.35 * depth && allAlike(energies, frames, count),
		since: Math.max(0, now - quickSeconds),
	};
}

/** Whether every channel in sight shakes by at least a third of what the liveliest does, as a share of its level. */
function allAlike(energies: Float64Array, frames: Int32Array, count: number): boolean {
	let least = Number.POSITIVE_INFINITY;
	let most = 0;
	for (let a = 0; a < energies.length; a++) {
		if (frames[a] < count / 2) continue;
		const depth = Math.sqrt(energies[a] / frames[a]);
		least = Math.min(least, depth);
		most = Math.max(most, depth);
	}
	return least >= most / 3;
}

function shakeAtRest(features: Features): CommonShake | undefined {
	const {analog, history, now, scale} = features;
	const {blocks, columns} = analog;
	if (columns.length < 3 || blocks.count < 4) return undefined;
	const full = scale.fullScale;
	const newest = blocks.count - 1;
	// A shaking that matters is well above a quarter of a percent on most channels.
	let lively = 0;
	for (let a = 0; a < columns.length; a++)
		if (blocks.high[blocks.at(newest, a)] - blocks.low[blocks.at(newest, a)] >= 0.005 * full) lively++;
	if (lively < 0.5 * columns.length) return undefined;
	const chosen: number[] = [];
	for (let a = 0; a < columns.length; a++) {
		let low = Number.POSITIVE_INFINITY;
		let high = Number.NEGATIVE_INFINITY;
		for (let back = 0; back < windowSeconds / BlockHistory.seconds; back++) {
			const at = blocks.at(newest - back, a);
			low = Math.min(low, blocks.low[at]);
			high = Math.max(high, blocks.high[at]);
		}
		if (high - low > mostQuickRange * full) return undefined;
		if (blocks.mean[blocks.at(newest, a)] - scale.railLow >= leastLevel * full) chosen.push(a);
	}
	// A resting hand must have most of its channels in sight.
	if (chosen.length < 3 || chosen.length < 0.6 * columns.length) return undefined;
	const first = history.firstAt(now - windowSeconds);
	const count = history.count - first;
	if (count < 15) return undefined;
	const means = chosen.map(a => meanOf(features, a, first));
	const centred = chosen.map((a, k) => {
		const row = new Float64Array(count);
		for (let i = 0; i < count; i++) row[i] = history.values[history.base(first + i) + columns[a]] - means[k];
		return row;
	});
	const deviations = centred.map(row => Math.sqrt(row.reduce((sum, x) => sum + x * x, 0) / count));
	const rms = Math.max(...deviations);
	const depths = deviations.map((deviation, k) => deviation / (means[k] - scale.railLow));
	const depth = Math.max(...depths);
	// In proportion to the level; where that fails the rest need not be known.
	const inProportion = Math.min(...depths) >= 0.4 * depth;
	const seconds = history.time(history.count - 1) - history.time(first);
	const reversalsPerSecond =
		inProportion && seconds > 0 ? reversals(commonOf(centred, means, scale.railLow)) / seconds : 0;
	const likeSupply = inProportion && reversalsPerSecond >= beyondHand;
	return {
		channels: chosen.length,
		correlation: likeSupply ? meanCorrelation(centred, deviations) : 0,
		rms,
		depth,
		reversalsPerSecond,
		likeSupply,
		since: Math.max(0, now - windowSeconds),
	};
}

/** Mean of all channels' readings about their means, each as a share of its level. */
function commonOf(centred: readonly Float64Array[], means: readonly number[], railLow: number): Float64Array {
	const common = new Float64Array(centred[0].length);
	for (let k = 0; k < centred.length; k++) {
		for (let i = 0; i < common.length; i++) common[i] += centred[k][i] / (means[k] - railLow) / centred.length;
	}
	return common;
}

/** Mean correlation of all pairs of rows. */
function meanCorrelation(centred: readonly Float64Array[], deviations: readonly number[]): number {
	let likeness = 0;
	let pairs = 0;
	for (let i = 0; i < centred.length; i++) {
		for (let j = i + 1; j < centred.length; j++) {
			let product = 0;
			for (let k = 0; k < centred[i].length; k++) product += centred[i][k] * centred[j][k];
			const scale = centred[i].length * deviations[i] * deviations[j];
			likeness += scale > 0 ? product / scale : 0;
			pairs++;
		}
	}
	return likeness / pairs;
}

function meanOf(features: Features, a: number, first: number): number {
	const {analog, history} = features;
	let sum = 0;
	for (let frame = first; frame < history.count; frame++)
		sum += history.values[history.base(frame) + analog.columns[a]];
	return sum / (history.count - first);
}

/** Turns of a signal by more than its own rms. */
function reversals(signal: Float64Array): number {
	return countTurns(signal, Math.sqrt(signal.reduce((sum, x) => sum + x * x, 0) / signal.length));
}
