import {describe, expect, it} from 'vitest';
import type {Finding} from '../../source/session/snapshot.ts';
import {chooseSpan, isWithin, spansToTry} from '../../source/share/choose-span.ts';

const finding = (code: string, from: number, flaggedAt: number, to: number | null = null): Finding => ({
	code,
	channel: null,
	status: 'failure',
	first: false,
	cautions: [],
	mended: false,
	from,
	flaggedAt,
	to,
	confidence: 1,
	summary: '',
	evidence: {},
	advice: [],
	spans: [[from, to]],
});

describe('spansToTry', () => {
	it('keeps a recording of two minutes, one without findings, and --all whole', () => {
		const found = [finding('stall', 50, 51)];
		expect(spansToTry(found, 120, {})).toEqual([{from: 0, to: 120}]);
		expect(spansToTry([], 3600, {})).toEqual([{from: 0, to: 3600}]);
		expect(spansToTry(found, 3600, {all: true})).toEqual([{from: 0, to: 3600}]);
	});

	it('begins with ten seconds around what was found, and ends with the whole', () => {
		const spans = spansToTry([finding('stall', 600.1, 601), finding('dropout', 640, 662.5)], 3600, {});
		expect(spans[0]).toEqual({from: 590, to: 672.5});
		expect(spans.at(-1)).toEqual({from: 0, to: 3600});
		const lengths = spans.map(({from, to}) => to - from);
		expect(lengths).toEqual([...lengths].sort((a, b) => a - b));
	});

	it('never goes more than two minutes before --from, and never past --to', () => {
		const spans = spansToTry([finding('stall', 20, 21)], 3600, {from: 600, to: 630});
		expect(spans[0]).toEqual({from: 600, to: 630});
		expect(Math.min(...spans.map(({from}) => from))).toBe(480);
		expect(new Set(spans.map(({to}) => to))).toEqual(new Set([630]));
	});
});

describe('chooseSpan', () => {
	const stall = finding('stall', 10, 11);
	const drift = finding('baseline-drift', 10, 40);
	const short = {from: 8, to: 12};
	const long = {from: 0, to: 50};

	it('takes the shortest span with all findings', () => {
		expect(chooseSpan([short, long], [stall], [stall], () => [stall])).toEqual({span: short, missing: [], extra: []});
		const needsMore = chooseSpan([short, long], [stall, drift], [stall, drift], ({from}) =>
			from === 0 ? [stall, drift] : [stall],
		);
		expect(needsMore.span).toEqual(long);
	});

	it('passes over a span that shows what the whole does not', () => {
		const {span} = chooseSpan([short, long], [stall], [stall], ({from}) => (from === 0 ? [stall] : [stall, drift]));
		expect(span).toEqual(long);
	});

	it('says what is missing where no span has it all, and then keeps to the shortest', () => {
		const choice = chooseSpan([short, long], [stall, drift], [stall, drift], () => [stall]);
		expect(choice).toEqual({span: short, missing: [drift], extra: []});
	});
});

describe('isWithin', () => {
	it('takes a finding that was there at any time of the span, also one that never ended', () => {
		expect(isWithin(finding('stall', 10, 11, 12), {from: 12, to: 20})).toBe(true);
		expect(isWithin(finding('stall', 10, 11, 12), {from: 13, to: 20})).toBe(false);
		expect(isWithin(finding('stall', 10, 11), {from: 500, to: 600})).toBe(true);
		expect(isWithin(finding('stall', 601, 602), {from: 500, to: 600})).toBe(false);
	});
});
