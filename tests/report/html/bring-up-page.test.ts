import {beforeAll, describe, expect, it} from 'vitest';
import type {FinishedBringUp} from '../../../source/bringup/finished-bring-up.ts';
import {bringUpPage} from '../../../source/report/html/bring-up-page.ts';
import {fingerView, sampleFinding, sampleInfo, sampleRun, sampleSnapshot} from '../sample-run.ts';
import {expectSound, expectTextOnly} from './expect-page.ts';
import {finishedBringUp, hostile} from './sample-pages.ts';

describe('the page of a bring-up', () => {
	let run: FinishedBringUp;
	let page: string;

	beforeAll(async () => {
		run = await finishedBringUp('bringup-swapped-reversed');
		page = bringUpPage(run);
	});

	it('tells verdict, what to do, each reel against its limits, every step with its answer, cautions, and the sheet', () => {
		for (const text of [
			'✗ FAIL',
			'What to do next, in this order',
			'answers on the channel called ring',
			'✗ fail',
			'<strong>Mend:</strong>',
			'≥ 50',
			'≥ 25',
			'swapped-channels <span class="failure">(failure)',
			'reversed-sensor',
			'the spring lets the cord whip',
			'Thumb reel: pull its cord out by hand',
			'ring answered: rises by',
			'ring: really index',
			'The sheet as built',
			'inverted = true',
			'Thumb stick',
		]) {
			expect(page.includes(text), text).toBe(true);
		}
	});

	it('has a row for each reel, a frame for each step that a channel answered, an arrow for each known direction', () => {
		const {reels, records} = run.result;
		for (const {name} of reels) expect(page.split(`<tr><td>${name}</td>`)).toHaveLength(2);
		const answered = records.filter(({column, outcome}) => outcome === 'done' && column !== null);
		expect(answered.length).toBeGreaterThan(10);
		expect(page.match(/<rect class="open"/g)).toHaveLength(answered.length);
		const arrows = reels.filter(({direction}) => direction !== 0).length;
		expect(
			page
				.split('Range of every finger')[1]
				.split('</svg>')[0]
				.match(/m-?4,-3l/g),
		).toHaveLength(arrows);
	});

	it('passes a good glove without a word of what to do', async () => {
		const good = bringUpPage(await finishedBringUp('bringup-good'));
		expect(good.includes('✓ PASS')).toBe(true);
		expect(good.includes('What to do next')).toBe(false);
		expect(good.includes('✗')).toBe(false);
	});

	it('says what is open where the routine was broken off', () => {
		const {result} = run;
		const page = bringUpPage({
			...run,
			result: {
				...result,
				verdict: 'incomplete',
				findings: [],
				acceptance: result.acceptance.map(({name}) => ({name, verdict: 'open', reasons: ['nothing answered']})),
				missing: ['stick around', 'button-2'],
			},
		});
		expect(page.includes('! INCOMPLETE')).toBe(true);
		expect(page.includes('Ask thumb again: nothing answered.')).toBe(true);
		expect(page.includes('stick around, button-2 not reached')).toBe(true);
		expect(page.includes('? open')).toBe(true);
	});

	it('holds no figure that is none, and stays small', () => {
		expectSound(page);
	});

	it('lets text from the device and the sheet be nothing but text', () => {
		const {result} = run;
		const base = sampleRun(
			sampleSnapshot({channels: [fingerView(0, hostile)], findings: [sampleFinding({channel: hostile})]}),
			{...sampleInfo, name: hostile, note: hostile},
			`${hostile}\n`,
		);
		const bad = bringUpPage({
			...run,
			...base,
			result: {
				...result,
				columns: result.columns.map(() => hostile),
				fingers: result.fingers.map(finger => ({...finger, name: hostile})),
				buttons: result.buttons.map(button => ({...button, name: hostile})),
				reels: result.reels.map(reel => ({...reel, name: hostile})),
				acceptance: [{name: hostile, verdict: 'fail', reasons: [hostile]}],
				findings: [
					{
						code: hostile,
						channel: hostile,
						status: 'failure',
						confidence: 1,
						summary: hostile,
						advice: hostile,
						remedy: hostile,
						caution: hostile,
					},
				],
				missing: [hostile],
				asBuilt: {...result.asBuilt, name: hostile, note: hostile, channels: [{name: 'thumb', pin: hostile}]},
			},
		});
		expectTextOnly(bad);
	});
});
