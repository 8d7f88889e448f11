import {beforeAll, describe, expect, it} from 'vitest';
import type {ComparedFinding} from '../../../source/compare/compare-findings.ts';
import type {EvidenceName} from '../../../source/faults/evidence.ts';
import {comparisonPage} from '../../../source/report/html/comparison-page.ts';
import {fingerView, sampleFinding, sampleInfo, sampleRun, sampleSnapshot} from '../sample-run.ts';
import {expectSound, expectTextOnly} from './expect-page.ts';
import {comparedSamples, hostile} from './sample-pages.ts';

describe('the page of a comparison', () => {
	let samples: Awaited<ReturnType<typeof comparedSamples>>;
	let page: string;

	beforeAll(async () => {
		samples = await comparedSamples('healthy', 'dropout');
		page = comparisonPage(samples.comparison, samples.a, samples.b);
	});

	it('tells verdict, both sides, findings by what became of them, ranges, figures, and what is wrong in B in full', () => {
		for (const text of [
			'✗ WORSE',
			'&quot;intermittent contact&quot; on ring is new in B.',
			'healthy.gbrec: 25 s',
			'dropout.gbrec: 25 s',
			'✗ new',
			'dropout on ring (out of spec)',
			'The hand at a glance',
			'ring in A: proven',
			'ring in B: faulty',
			'hatched: finding 1',
			'The second in which it began',
			'Measure, in this order',
			'longest gap (ms)',
			'Time between two frames in B.',
		]) {
			expect(page.includes(text), text).toBe(true);
		}
	});

	it('draws every channel of both sessions, and their links on one scale', () => {
		const {channels} = samples.comparison;
		expect(channels.length).toBeGreaterThan(8);
		for (const {name} of channels) expect(page.split(`aria-label="${name} over time"`)).toHaveLength(3);
		const axes = [
			...page.matchAll(/aria-label="How often which time passed between two frames">.*?<g class="axis">(.*?)<\/g>/g),
		];
		expect(axes).toHaveLength(2);
		expect(axes[0][1]).toBe(axes[1][1]);
	});

	it('says what went away as plainly as what came', async () => {
		const mended = await comparedSamples('dropout', 'healthy');
		const better = comparisonPage(mended.comparison, mended.a, mended.b);
		expect(better.includes('✓ BETTER')).toBe(true);
		expect(better.includes('✓ gone')).toBe(true);
		// What was wrong in A is hatched there, under its own name: it has no number on this page.
		expect(better.includes('hatched: dropout')).toBe(true);
		expect(better.includes('What is wrong in B')).toBe(false);
	});

	it('holds no figure that is none, and stays small', () => {
		expectSound(page);
	});

	it('lets text from the device be nothing but text', () => {
		const run = sampleRun(
			sampleSnapshot({
				channels: [fingerView(0, hostile)],
				findings: [sampleFinding({channel: hostile, summary: hostile, evidence: {[hostile as EvidenceName]: hostile}})],
				events: [{t: 1, event: hostile, detail: hostile}],
				marks: [{t: 1, mark: hostile}],
			}),
			{...sampleInfo, name: hostile, note: hostile},
			`${hostile}\n`,
		);
		const finding: ComparedFinding = {code: hostile, channel: hostile, status: 'failure', summary: hostile};
		const side = {...samples.comparison.a, name: hostile};
		const bad = comparisonPage(
			{
				a: side,
				b: side,
				channels: samples.comparison.channels.map(channel => ({...channel, name: hostile})),
				findings: {gone: [finding], appeared: [finding], remaining: [finding], untested: [finding]},
				changes: [hostile],
				verdict: {word: 'mixed', sentence: hostile},
			},
			run,
			run,
		);
		expectTextOnly(bad);
	});
});
