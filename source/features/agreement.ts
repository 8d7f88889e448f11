import {medianOf, mediansOfRows} from '../math/nth-smallest.ts';
import type {Features} from './features.ts';
import {FrameHistory, frameMask} from './frame-history.ts';
import type {Hand} from './hand.ts';
import type {MovementTaker} from './movement-walk.ts';
import type {StateBlock} from './state-block.ts';

/** Movements remembered per finger: ten times there and back. */
const kept = 20;

/** A movement is looked at from so much before it sets out to so much after it is over, seconds. */
const beforeSeconds = 0.1;
const afterSeconds = 0.3;

/** The finger made a trip itself where it went this share of its span meanwhile, and so many rest noises (check-values D2). */
const ofSpan = 0.2;
const noises = 10;

/** With fewer others there is no consensus. */
const leastOthers = 2;

/**
 * How each finger goes with the others in whole-hand movements (check-values D5.4, reversed-sensor): the correlation of its
 * readings with the consensus of the others, +1 with them, −1 against them. With them means the way in which the readings
 * of most fingers of the hand go.
 */
export class Agreement implements MovementTaker {
	private readonly count: Int32Array;
	private readonly correlation: Float64Array;
	/** When the movement set out, seconds. */
	private readonly at: Float64Array;
	/** The last frame that was looked at: movements of a hand that is grouped anew come again. */
	private readonly until: Float64Array;

	constructor(channels: number, state: StateBlock) {
		this.count = state.ints(channels);
		this.correlation = state.floats(channels * kept);
		this.at = state.floats(channels * kept);
		this.until = state.floats(channels, -1);
	}

	takeMovement(features: Features, hand: Hand, f: number, place: number): void {
		const {history} = features;
		// A movement of which more than half was measured before is the same one.
		if ((hand.outFrame[place] + hand.inFrame[place]) / 2 <= this.until[f]) return;
		const from = Math.max(features.epochFrameOf(f), history.firstAt(hand.outAt[place] - beforeSeconds));
		const to = Math.min(history.count, history.firstAt(hand.inAt[place] + afterSeconds));
		this.until[f] = hand.inFrame[place];
		const correlation = withConsensus(features, hand, f, from, to);
		if (Number.isNaN(correlation)) return;
		const i = f * kept + (this.count[f]++ % kept);
		this.correlation[i] = correlation;
		this.at[i] = hand.outAt[place];
	}

	forget(a: number): void {
		this.count[a] = 0;
		this.until[a] = -1;
	}

	/** Movements in which the finger made a trip itself, of those held. */
	measured(a: number): number {
		return Math.min(kept, this.count[a]);
	}

	/** Those of them with a correlation of at most `most`. */
	against(a: number, most: number): number {
		let sum = 0;
		const measured = this.measured(a);
		for (let k = 0; k < measured; k++) if (this.correlation[a * kept + k] <= most) sum++;
		return sum;
	}

	/** The correlation that has as many above as below; undefined before the first movement. */
	median(a: number): number | undefined {
		const measured = this.measured(a);
		return measured > 0 ? medianOf(this.correlation, a * kept, measured) : undefined;
	}

	/** How many of the latest movements in a row had a correlation of at least `least`. */
	lately(a: number, least: number): number {
		let row = 0;
		const measured = this.measured(a);
		for (let k = 1; k <= measured; k++) {
			if (this.correlation[a * kept + ((this.count[a] - k) % kept)] < least) break;
			row++;
		}
		return row;
	}

	/** When the first and the last movement with a correlation of at most `most` set out, seconds; undefined without any. */
	seen(a: number, most: number): {first: number; last: number} | undefined {
		let first = Number.POSITIVE_INFINITY;
		let last = Number.NEGATIVE_INFINITY;
		const measured = this.measured(a);
		for (let k = 0; k < measured; k++) {
			if (this.correlation[a * kept + k] > most) continue;
			first = Math.min(first, this.at[a * kept + k]);
			last = Math.max(last, this.at[a * kept + k]);
		}
		return last >= first ? {first, last} : undefined;
	}
}

/** +1 or −1: which way the readings of most of these fingers go when the hand closes; 0 where as many go one way as the other. */
function mostSense(hand: Hand, fingers: readonly number[]): number {
	let sum = 0;
	for (const f of fingers) sum += hand.sense[f];
	return Math.sign(sum);
}

/** Used within one call only: what share of its span each other finger has closed, a row for each frame; and their median. */
const shares = {values: new Float64Array(4 * FrameHistory.capacity)};
const consensus = new Float64Array(FrameHistory.capacity);

/**
 * Correlation of a finger's readings with the consensus of the others over frames `from` (included) to `to` (not included):
 * the median of what share of its span each has closed. NaN where the finger made no trip, or too few others are known.
 */
function withConsensus(features: Features, hand: Hand, f: number, from: number, to: number): number {
	const {history, analog} = features;
	const {spans, columns, noise} = analog;
	const others = hand.others(f).filter(other => hand.sense[other] !== 0 && spans.of(other) > 0);
	const most = mostSense(hand, others);
	if (others.length < leastOthers || most === 0) return Number.NaN;
	const width = others.length;
	if (width * (to - from) > shares.values.length) shares.values = new Float64Array(width * FrameHistory.capacity);
	const closed = shares.values;
	for (let i = 0; i < width; i++) {
		const other = others[i];
		const readings = history.columns[columns[other]];
		const least = spans.low[other];
		const span = spans.of(other);
		const opens = hand.sense[other] < 0;
		for (let frame = from, at = i; frame < to; frame++, at += width) {
			const share = (readings[frame & frameMask] - least) / span;
			closed[at] = opens ? 1 - share : share;
		}
	}
	mediansOfRows(closed, width, to - from, consensus);
	let count = 0;
	let meanX = 0;
	let meanY = 0;
	let squaresX = 0;
	let squaresY = 0;
	let products = 0;
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	const readings = history.columns[columns[f]];
	for (let frame = from; frame < to; frame++) {
		const x = readings[frame & frameMask];
		const y = consensus[frame - from];
		if (Number.isNaN(x + y)) continue;
		if (x < low) low = x;
		if (x > high) high = x;
		// Welford's update of both means and the product (Technometrics 4, 1962).
		count++;
		const dx = x - meanX;
		const dy = y - meanY;
		meanX += dx / count;
		meanY += dy / count;
		squaresX += dx * (x - meanX);
		squaresY += dy * (y - meanY);
		products += dx * (y - meanY);
	}
	if (!(high - low >= Math.max(noises * noise.of(f), ofSpan * spans.of(f)))) return Number.NaN;
	return squaresX > 0 && squaresY > 0 ? (most * products) / Math.sqrt(squaresX * squaresY) : Number.NaN;
}
