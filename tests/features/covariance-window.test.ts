import * as statistics from 'simple-statistics';
import {describe, expect, it} from 'vitest';
import {BlockHistory} from '../../source/features/block-history.ts';
import {CovarianceWindow} from '../../source/features/covariance-window.ts';
import {Random} from '../../source/simulator/random.ts';

// Outside check: simple-statistics works on the readings themselves, the window on sums over blocks about a pivot.
const random = new Random(3);
const x = Array.from({length: 200}, (_, i) => 500 + 200 * Math.sin(i / 9) + random.normal(0, 3));
const y = x.map(value => 120 + 0.4 * value + random.normal(0, 2));

function windowOf(): CovarianceWindow {
	const blocks = new BlockHistory(2);
	for (let from = 0; from < x.length; from += 25) {
		const slot = blocks.slot(blocks.count);
		blocks.frames[slot] = 25;
		[x, y].forEach((row, a) => {
			const own = row.slice(from, from + 25);
			const at = blocks.at(blocks.count, a);
			blocks.sum[at] = statistics.sum(own);
			blocks.low[at] = statistics.min(own);
			blocks.high[at] = statistics.max(own);
			blocks.mean[at] = statistics.mean(own);
		});
		for (const [a, b, one, other] of [
			[0, 0, x, x],
			[0, 1, x, y],
			[1, 1, y, y],
		] as const) {
			let product = 0;
			for (let i = from; i < from + 25; i++) product += one[i] * other[i];
			blocks.cross[blocks.pairAt(blocks.count, a, b)] = product;
		}
		blocks.count++;
	}
	const window = new CovarianceWindow(2);
	window.fill(blocks, 0, blocks.count);
	return window;
}

describe('means and covariances from blocks', () => {
	const window = windowOf();
	it('deviation and correlation agree with the library', () => {
		expect(window.deviation(0)).toBeCloseTo(statistics.standardDeviation(x), 6);
		expect(window.correlation(0, 1)).toBeCloseTo(statistics.sampleCorrelation(x, y), 9);
	});
	it('gain, offset and residual of a copy are those of the regression line', () => {
		const {m, b} = statistics.linearRegression(x.map((value, i) => [value, y[i]]));
		const copy = window.copy(0, 1);
		expect(copy.gain).toBeCloseTo(m, 8);
		expect(copy.offset).toBeCloseTo(b, 5);
		expect(copy.residual).toBeCloseTo(statistics.rootMeanSquare(x.map((value, i) => y[i] - m * value - b)), 5);
	});
	it('range and travel are the extremes of the readings and of the block means', () => {
		expect(window.range(0)).toBeCloseTo(statistics.max(x) - statistics.min(x), 9);
		expect(window.travel(0)).toBeLessThan(window.range(0));
	});
});
