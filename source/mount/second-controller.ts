import {meanTurn} from './mean-turn.ts';
import {jackknife, leastBlocks, type Region} from './region.ts';
import {inverse, logOf, plus, type Quaternion, scaled, times, turned, type Vector} from './rotation.ts';
import type {Pair} from './two-streams.ts';

/** The tracker's offset as two streams tell it. `rms`: what is left of single poses. */
export type Offset = {
	readonly turn: Quaternion;
	readonly place: Vector;
	readonly turnRegion: Region | undefined;
	readonly placeRegion: Region | undefined;
	readonly rmsDegrees: number;
	readonly rmsMm: number;
	readonly blocks: number;
};

/** Pairs by blocks of time, without those that hold less than a third of the fullest. */
export function blocksOf(pairs: readonly Pair[], seconds: number): (readonly Pair[])[] {
	const blocks = new Map<number, Pair[]>();
	for (const pair of pairs) {
		const key = Math.floor((pair.t - pairs[0].t) / seconds);
		const block = blocks.get(key);
		if (block) block.push(pair);
		else blocks.set(key, [pair]);
	}
	const most = Math.max(0, ...[...blocks.values()].map(({length}) => length));
	return [...blocks.values()].filter(({length}) => 3 * length >= most);
}

/** X = A⁻¹ B of one moment. */
function offsetOf({a, b}: Pair): {turn: Quaternion; place: Vector} {
	const back = inverse(a.turn);
	return {turn: times(back, b.turn), place: turned(back, plus(b.place, a.place, -1))};
}

/** The mean of A⁻¹ B over all moments, with its region by a jackknife over blocks of a second. Undefined without a moment. */
export function meanOffset(pairs: readonly Pair[]): Offset | undefined {
	if (pairs.length === 0) return undefined;
	const offsets = pairs.map(offsetOf);
	const turn = meanTurn(offsets.map(each => each.turn));
	const place = meanPlace(offsets.map(each => each.place));
	let squaresTurn = 0;
	let squaresPlace = 0;
	for (const each of offsets) {
		squaresTurn += lengthSquared(logOf(times(inverse(turn), each.turn)));
		squaresPlace += lengthSquared(plus(each.place, place, -1));
	}
	const blocks = blocksOf(pairs, 1).map(block => block.map(offsetOf));
	// Of small turns and of places the mean without a block is the mean of the other blocks' sums.
	const sums = blocks.map(block => ({
		count: block.length,
		turn: sumOf(block.map(each => logOf(times(each.turn, inverse(turn))))),
		place: sumOf(block.map(each => each.place)),
	}));
	const count = sums.reduce((sum, each) => sum + each.count, 0);
	const without = (pick: 'turn' | 'place') => {
		const whole = sumOf(sums.map(each => each[pick]));
		return sums.map(each => scaled(plus(whole, each[pick], -1), 1 / (count - each.count)));
	};
	const isEnough = blocks.length >= leastBlocks;
	return {
		turn,
		place,
		turnRegion: isEnough ? jackknife(without('turn')) : undefined,
		placeRegion: isEnough ? jackknife(without('place')) : undefined,
		rmsDegrees: (Math.sqrt(squaresTurn / pairs.length) * 180) / Math.PI,
		rmsMm: Math.sqrt(squaresPlace / pairs.length),
		blocks: blocks.length,
	};
}

function meanPlace(places: readonly Vector[]): Vector {
	return scaled(sumOf(places), 1 / places.length);
}

function sumOf(vectors: readonly Vector[]): Vector {
	return vectors.reduce<Vector>((sum, each) => plus(sum, each), [0, 0, 0]);
}

function lengthSquared(v: Vector): number {
	return v[0] ** 2 + v[1] ** 2 + v[2] ** 2;
}
