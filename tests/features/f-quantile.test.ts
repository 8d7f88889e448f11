import {gammaln} from 'simple-statistics';
import {expect, it} from 'vitest';
import {fQuantile} from '../../source/features/f-quantile.ts';

// Source: the F distribution's definition, integrated here over the beta density with the gamma function of an independent
// library (simple-statistics).
function tail(above: number, below: number, ratio: number): number {
	const scale = Math.exp(gammaln((above + below) / 2) - gammaln(above / 2) - gammaln(below / 2));
	const steps = 4000;
	const top = below / (below + above * ratio);
	let sum = 0;
	for (let i = 1; i <= steps; i++) {
		const u = (top * i) / steps;
		const weight = i === steps ? 1 : i % 2 === 1 ? 4 : 2;
		sum += weight * u ** (below / 2 - 1) * (1 - u) ** (above / 2 - 1);
	}
	return (scale * sum * top) / steps / 3;
}

const pairs = [
	[10, 10],
	[20, 20],
	[28, 22],
	[63, 20],
	[90, 22],
	[30, 60],
];

it.each(pairs)('passes by chance as rarely as told, %i and %i degrees of freedom', (above, below) => {
	// Normal deviates of 5, 1 and 0.5 %: any table of the normal distribution.
	for (const [deviate, chance] of [
		[1.645, 0.05],
		[2.326, 0.01],
		[2.576, 0.005],
	]) {
		const exact = tail(above, below, fQuantile(above, below, deviate));
		expect(exact).toBeLessThan(chance * 1.005);
		expect(exact).toBeGreaterThan(chance * 0.9);
	}
});

it('agrees with the printed tables', () => {
	// NIST/SEMATECH e-Handbook of Statistical Methods 1.3.6.7.3, upper critical values of F, from memory: 5 % and 1 %.
	expect(fQuantile(10, 10, 1.645)).toBeCloseTo(2.978, 1);
	expect(fQuantile(20, 20, 1.645)).toBeCloseTo(2.124, 2);
	expect(fQuantile(20, 20, 2.326)).toBeCloseTo(2.938, 1);
});

it('asks more, never less, where few numbers stand below, and says nothing below three', () => {
	expect(tail(9, 4, fQuantile(9, 4, 2.576))).toBeLessThan(0.005);
	expect(fQuantile(9, 2, 2.576)).toBe(Number.POSITIVE_INFINITY);
	expect(fQuantile(0, 20, 2.576)).toBe(Number.POSITIVE_INFINITY);
});
