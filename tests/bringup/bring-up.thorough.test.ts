import {describe, expect, it} from 'vitest';
import type {BringUp} from '../../source/bringup/bring-up.ts';
import {Random} from '../../source/simulator/random.ts';
import {drawGlove} from '../../source/simulator/random-glove.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {bringUpSample} from '../gloves/sample-script.ts';
import {expectOrderFound, expectRangesUsed, fingers, swappedReversed} from './expect-as-built.ts';
import {changedSimulation, runItems, sampleRun, sampleSimulation} from './sample-run.ts';

/** A hand that pulls what it was asked for: what answers in its place is crossed with it. */
const takeCrossed = (running: BringUp) => running.take();

describe('bring-up of a good glove', () => {
	it('goes through the same steps where somebody reads the prompts', async () => {
		const alone = await sampleRun(7);
		const prompted = await sampleRun(7, {}, {isPrompted: true});
		const brief = ({records}: typeof alone.bringUp) => records.map(({id, outcome, column}) => [id, outcome, column]);
		expect(brief(prompted.bringUp)).toEqual(brief(alone.bringUp));
	});

	it('gives the same record however the bytes were cut', async () => {
		const {items} = sampleSimulation(7);
		const bytes = items.flatMap(item =>
			'bytes' in item ? [...item.bytes].map(byte => ({t: item.t, bytes: Uint8Array.of(byte)})) : [],
		);
		const whole = await sampleRun(7);
		const cut = await runItems(bytes.slice(0, 250_000));
		expect(cut.result.records.slice(0, 12)).toEqual(whole.result.records.slice(0, 12));
	});
});

describe('channel order', () => {
	it.each([3, 4, 5, 6])('is found with two cords swapped and one reel reversed, seed %i', expectOrderFound);

	it('is found on whatever board, firmware, rate and hand', async () => {
		for (let seed = 1; seed <= 6; seed++) {
			const spec = bringUpSample(seed);
			const glove = drawGlove(new Random(31 * seed), {
				fingerCount: 5,
				stick: true,
				stickFirst: false,
				buttonCount: 2,
				span: [0.3, 0.8],
			});
			const {items, truth} = simulate({
				...spec,
				glove,
				durationSeconds: 120,
				stream: {...spec.stream, rate: [30, 60, 100, 200][seed % 4]},
				link: {...spec.link, baud: 500_000},
			});
			const {result} = await runItems(items, {
				session: {fullScale: truth.outputFullScale, layout: truth.columns.join(',')},
			});
			expect(
				result.fingers.map(({column}) => truth.columns[column]),
				`seed ${seed}`,
			).toEqual(fingers);
			expect(
				result.fingers.every(({isKnown}) => isKnown),
				`seed ${seed}`,
			).toBe(true);
			expect(
				result.findings.filter(({code}) => /swapped|stick-/.test(code)),
				`seed ${seed}`,
			).toEqual([]);
		}
	});
});

describe('a routine that is broken off', () => {
	it('goes on where it was, and comes to the same result', async () => {
		const {items} = sampleSimulation(7, swappedReversed);
		const whole = await sampleRun(7, swappedReversed);
		const until = whole.result.records.find(({id}) => id === 'reel ring')!.from + 1;
		const first = await runItems(
			items.filter(({t}) => t < until),
			{isPrompted: true, watch: takeCrossed},
		);
		expect(first.result.missing[0]).toBe('reel ring');
		expect(first.result.acceptance.slice(-3).map(({reasons}) => reasons)).toEqual(new Array(3).fill(['not asked yet']));
		expect(first.result.verdict).not.toBe('pass');
		const records = JSON.parse(JSON.stringify(first.result.records));
		const from = whole.result.records.find(({id}) => id === 'reel ring')!.from - 0.3;
		const rest = items.filter(({t}) => t >= from).map(item => ({...item, t: item.t - from}));
		const second = await runItems(rest, {
			isPrompted: true,
			watch: takeCrossed,
			earlier: {columns: whole.result.columns, records},
		});
		expect(second.result.missing).toEqual([]);
		expect(second.result.fingers.map(({name, column}) => [name, column])).toEqual(
			whole.result.fingers.map(({name, column}) => [name, column]),
		);
		expect(second.result.asBuilt.channels.map(({name, inverted}) => [name, inverted])).toEqual(
			whole.result.asBuilt.channels.map(({name, inverted}) => [name, inverted]),
		);
	});
});

describe('frames that come unevenly', () => {
	it('are found in a recording, and not judged while prompts are drawn', async () => {
		// Every other frame is held up, almost until the one after it.
		const items = sampleSimulation(7).items.map((item, i) => (i % 2 === 0 ? {...item, t: item.t + 0.008} : item));
		const codes = async (isPrompted: boolean) =>
			(await runItems(items, {isPrompted})).result.findings.map(({code}) => code);
		expect(await codes(false)).toContain('uneven-frames');
		expect(await codes(true)).toEqual([]);
	});
});

describe('marks in a recording', () => {
	it('say which step was asked for, so that a dead channel shifts nothing', async () => {
		const {items} = changedSimulation(4, {faults: [{code: 'stuck-mid', channel: 'index'}]});
		const good = await sampleRun(4, {}, {isPrompted: true});
		const marks = good.result.records.map(({id, from}) => ({t: from, mark: `bring-up: ${id}`}));
		const marked = [...items, ...marks].sort((one, other) => one.t - other.t);
		const {result} = await runItems(marked);
		const answers = Object.fromEntries(result.records.map(({id, column}) => [id, column]));
		expect(answers).toMatchObject({
			'reel thumb': 0,
			'reel index': null,
			'reel middle': 2,
			'reel ring': 3,
			'reel little': 4,
		});
	});
});

describe('ranges as built', () => {
	it.each([2, 3, 4])(
		'are within a hundredth of full scale of the readings really used by the hand, seed %i',
		expectRangesUsed,
	);
});
