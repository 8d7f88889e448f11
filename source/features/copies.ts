import {FrameHistory, frameMask} from './frame-history.ts';

/** Used within one call only: the pairs of readings, side by side. */
const modelReadings = new Float64Array(FrameHistory.capacity);
const copyReadings = new Float64Array(FrameHistory.capacity);

/** How well one channel's readings are a scaled copy of another's over some frames. */
type Copy = {
	/** Gain of the best copy, within the bounds asked for; 0 where the model does not move. */
	readonly gain: number;
	/** rms of what is left, counts. */
	readonly residual: number;
	/** Correlation of the two, −1…1; 0 where either does not move. */
	readonly correlation: number;
	/** Ranges of the model and of the copy over the frames, counts. */
	readonly modelRange: number;
	readonly copyRange: number;
};

/**
 * The best copy of column `model` for column `copy` over the frames `from` (included) to `to` (not included): offset free,
 * gain by least squares, held between `least` and `most`. Frames without either reading are left out; undefined below three.
 */
export function bestCopy(
	history: FrameHistory,
	model: number,
	copy: number,
	from: number,
	to: number,
	least = Number.NEGATIVE_INFINITY,
	most = Number.POSITIVE_INFINITY,
): Copy | undefined {
	const models = history.columns[model];
	const copies = history.columns[copy];
	let count = 0;
	let sumX = 0;
	let sumY = 0;
	let lowX = Number.POSITIVE_INFINITY;
	let highX = Number.NEGATIVE_INFINITY;
	let lowY = lowX;
	let highY = highX;
	const first = Math.max(from, history.oldest);
	for (let frame = first; frame < to; frame++) {
		const x = models[frame & frameMask];
		const y = copies[frame & frameMask];
		if (Number.isNaN(x + y)) continue;
		modelReadings[count] = x;
		copyReadings[count] = y;
		count++;
		sumX += x;
		sumY += y;
		if (x < lowX) lowX = x;
		if (x > highX) highX = x;
		if (y < lowY) lowY = y;
		if (y > highY) highY = y;
	}
	if (count < 3) return undefined;
	const meanX = sumX / count;
	const meanY = sumY / count;
	let squaresX = 0;
	let squaresY = 0;
	let products = 0;
	for (let i = 0; i < count; i++) {
		const x = modelReadings[i] - meanX;
		const y = copyReadings[i] - meanY;
		squaresX += x * x;
		squaresY += y * y;
		products += x * y;
	}
	const free = squaresX > 0 ? products / squaresX : 0;
	const gain = Math.min(most, Math.max(least, free));
	const left = squaresY - 2 * gain * products + gain * gain * squaresX;
	return {
		gain: free,
		residual: Math.sqrt(Math.max(0, left) / count),
		correlation: squaresX > 0 && squaresY > 0 ? products / Math.sqrt(squaresX * squaresY) : 0,
		modelRange: highX - lowX,
		copyRange: highY - lowY,
	};
}

/**
 * What `bestCopy` leaves at the least, rms counts, by one frame of each `stride`: those alone leave less by their own best copy.
 * 0 where that is within rounding.
 */
export function leastResidual(
	history: FrameHistory,
	model: number,
	copy: number,
	from: number,
	to: number,
	stride: number,
): number {
	const models = history.columns[model];
	const copies = history.columns[copy];
	let count = 0;
	let sumX = 0;
	let sumY = 0;
	for (let frame = Math.max(from, history.oldest); frame < to; frame += stride) {
		const x = models[frame & frameMask];
		const y = copies[frame & frameMask];
		if (Number.isNaN(x + y)) continue;
		modelReadings[count] = x;
		copyReadings[count] = y;
		count++;
		sumX += x;
		sumY += y;
	}
	const meanX = sumX / count;
	const meanY = sumY / count;
	let squaresX = 0;
	let squaresY = 0;
	let products = 0;
	for (let i = 0; i < count; i++) {
		const x = modelReadings[i] - meanX;
		const y = copyReadings[i] - meanY;
		squaresX += x * x;
		squaresY += y * y;
		products += x * y;
	}
	const left = squaresX > 0 ? squaresY - (products * products) / squaresX : 0;
	return left > withinRounding * squaresY ? Math.sqrt(left / (to - from)) : 0;
}

/** Of squares that cancel so far nothing is known. */
const withinRounding = 1e-5;
