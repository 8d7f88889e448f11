import * as fc from 'fast-check';
import {describe, expect, test} from 'vitest';
import {Checkpoint} from '../../source/dashboard/checkpoint.ts';
import {Session} from '../../source/session/session.ts';
import {Random} from '../../source/simulator/random.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {randomScenario} from '../gloves/scenario.ts';

/** A stream with a fault in it; the same for all tests of this file. */
function stream(
	code: string,
	seed: number,
): {items: readonly SourceItem[]; options: ConstructorParameters<typeof Session>[0]; seconds: number} {
	const {spec} = randomScenario(new Random(seed), {code});
	const {items, truth} = simulate({...spec, durationSeconds: Math.min(spec.durationSeconds, 20)});
	const {baud, fullScale, layout} = truth.declared;
	return {
		items,
		options: {timing: 'measured', baud, fullScale, ...(layout === null ? {} : {layout})},
		seconds: truth.durationSeconds,
	};
}

/** Cuts every chunk at random places; the pieces keep their chunk's time. */
function chop(items: readonly SourceItem[], cut: (length: number) => number): SourceItem[] {
	return items.flatMap((item): SourceItem[] => {
		if (!('bytes' in item)) return [item];
		const pieces: SourceItem[] = [];
		for (let at = 0; at < item.bytes.length; ) {
			const length = Math.max(1, Math.min(item.bytes.length - at, cut(item.bytes.length)));
			pieces.push({t: item.t, bytes: item.bytes.subarray(at, at + length)});
			at += length;
		}
		return pieces;
	});
}

function run(
	items: readonly SourceItem[],
	options: ConstructorParameters<typeof Session>[0],
	seconds: number,
): Session {
	const session = new Session(options);
	for (const item of items) session.push(item);
	session.end(seconds);
	return session;
}

describe('one engine', () => {
	const cases = [stream('dropout', 3), stream('broken-frames', 5), stream('device-restart', 8), stream('stuck-mid', 2)];

	test('the same bytes at the same times give the same findings however they are chunked', () => {
		const wanted = cases.map(({items, options, seconds}) => run(items, options, seconds).findings);
		expect(wanted.some(findings => findings.length > 0)).toBe(true);
		fc.assert(
			fc.property(
				fc.integer({min: 0, max: cases.length - 1}),
				fc.infiniteStream(fc.integer({min: 1, max: 40})),
				(which, lengths) => {
					const {items, options, seconds} = cases[which];
					const chopped = chop(items, () => lengths.next().value as number);
					expect(run(chopped, options, seconds).findings).toEqual(wanted[which]);
				},
			),
			{numRuns: 12},
		);
	});

	test('telling the session that time passes changes nothing', () => {
		for (const {items, options, seconds} of cases) {
			const wanted = run(items, options, seconds).findings;
			const session = new Session(options);
			for (const item of items) {
				// A live owner's timer fires at odd times between the chunks.
				for (let t = session.t; t < item.t; t += 0.0371) session.advance(t);
				session.push(item);
			}
			session.end(seconds);
			expect(session.findings).toEqual(wanted);
		}
	});

	test('looking at it changes nothing, and a snapshot does not change afterwards', () => {
		const {items, options, seconds} = cases[0];
		const wanted = run(items, options, seconds).findings;
		const session = new Session(options);
		let kept: {frozen: string; snapshot: unknown} | undefined;
		items.forEach((item, i) => {
			session.push(item);
			if (i % 50 !== 0) return;
			const snapshot = session.snapshot();
			session.trend(0, 0, session.t, 40);
			if (i === 500) kept = {frozen: JSON.stringify(snapshot), snapshot};
		});
		session.end(seconds);
		expect(session.findings).toEqual(wanted);
		expect(JSON.stringify(kept?.snapshot)).toBe(kept?.frozen);
	});

	test('a session put into the state of another goes its own way and arrives at the same findings', () => {
		const {items, options, seconds} = cases[1];
		const session = new Session(options);
		const half = Math.floor(items.length / 2);
		for (const item of items.slice(0, half)) session.push(item);
		const clone = new Session(options);
		new Checkpoint(session).restoreInto(clone);
		for (const item of items.slice(half)) session.push(item);
		session.end(seconds);
		expect(clone.snapshot().link.frames).toBeLessThan(session.snapshot().link.frames);
		for (const item of items.slice(half)) clone.push(item);
		clone.end(seconds);
		expect(clone.findings).toEqual(session.findings);
		expect(clone.snapshot()).toEqual(session.snapshot());
	});
});

describe('findings over time', () => {
	/** Frames of five fingers, 100 a second, written by hand. */
	const lines = (from: number, to: number, text: (t: number) => string): SourceItem[] => {
		const items: SourceItem[] = [];
		for (let n = Math.round(from * 100); n < Math.round(to * 100); n++) {
			items.push({t: n / 100, bytes: new TextEncoder().encode(`${text(n / 100)}\r\n`)});
		}
		return items;
	};
	const rest = (): string => '300,310,320,330,340';

	test('silence at the start is flagged at 3 s sharp, whenever the owner asks', () => {
		const session = new Session({timing: 'measured'});
		session.advance(2.9);
		expect(session.findings).toEqual([]);
		session.advance(4.1);
		expect(session.findings).toMatchObject([{code: 'silent', from: 0, flaggedAt: 3, to: null}]);
	});

	test('a stream that stops and goes on is a stall with both its ends, and no longer silent', () => {
		const session = new Session({timing: 'measured'});
		for (const item of [...lines(0, 4, rest), ...lines(11, 13, rest)]) session.push(item);
		session.end(13);
		expect(session.findings).toMatchObject([{code: 'stall', from: 3.99, flaggedAt: 11, to: 11}]);
	});

	test('a finding that comes and goes is one finding with its spans', () => {
		const session = new Session({timing: 'measured'});
		for (const item of [...lines(0, 4, rest), ...lines(5, 8, rest), ...lines(10, 12, rest)]) session.push(item);
		session.end(12);
		expect(session.findings).toHaveLength(1);
		expect(session.findings[0].spans).toEqual([
			[3.99, 5],
			[7.99, 10],
		]);
	});

	test('a lost port is told at its time and silences silence', () => {
		const session = new Session({timing: 'measured'});
		for (const item of lines(0, 3, rest)) session.push(item);
		session.push({t: 3.1, event: 'port-lost', detail: 'unplugged'});
		session.end(20);
		expect(session.findings).toMatchObject([{code: 'port-lost', from: 3.1, flaggedAt: 3.1, to: null}]);
		expect(session.snapshot().events).toEqual([{t: 3.1, event: 'port-lost', detail: 'unplugged'}]);
	});

	test('the trend keeps extremes over a long session', () => {
		const session = new Session({timing: 'measured'});
		for (const item of lines(0, 300, t => (Math.abs(t - 33) < 0.005 ? '900,310,320,330,340' : rest())))
			session.push(item);
		const trend = session.trend(0, 0, 300, 30);
		expect(trend[3].high).toBe(900);
		expect(trend[3].low).toBe(300);
		expect(trend[20]).toEqual({low: 300, high: 300});
	});
});
