import {describe, expect, it} from 'vitest';
import {Routine} from '../../source/bringup/routine.ts';
import {Session} from '../../source/session/session.ts';
import {itemsOf, quietRanges, rowsOf} from '../fit/simulated.ts';
import {BenchFeeder} from '../gloves/bench-feeder.ts';
import {bringUpSample} from '../gloves/sample-script.ts';
import {expectOrderFound, expectRangesUsed, fingers} from './expect-as-built.ts';
import {changedSimulation, runItems, sampleRun, sampleSimulation} from './sample-run.ts';

describe('bring-up of a good glove', () => {
	it('goes through every step by itself, and passes', async () => {
		const {result, bringUp} = await sampleRun(7);
		expect(result.missing).toEqual([]);
		expect(bringUp.records.map(({outcome}) => outcome)).toEqual(bringUp.steps.map(() => 'done'));
		expect(result.findings).toEqual([]);
		expect(result.acceptance.map(({verdict}) => verdict)).toEqual(new Array(8).fill('pass'));
		expect(result.verdict).toBe('pass');
	});

	it('works without stick, buttons and thumb', async () => {
		const rows = rowsOf(sampleSimulation(7).items).map(row => row.slice(1, 5));
		const {result} = await runItems(itemsOf(rows, 100), {
			session: {fullScale: 1023, layout: 'index,middle,ring,little'},
		});
		expect(result.acceptance.map(({name, verdict}) => [name, verdict])).toEqual(
			fingers.slice(1).map(name => [name, 'pass']),
		);
		expect(result.verdict).toBe('pass');
	});
});

describe('channel order', () => {
	it.each([1, 2])('is found with two cords swapped and one reel reversed, seed %i', expectOrderFound);

	// A thumb has half the others' travel: by shares of full scale only two of the three would seem to move together.
	it('is found on three fingers with a short thumb, whose fists are fists', async () => {
		const [thumb, index, middle] = [0, 1, 2];
		const rows = rowsOf(sampleSimulation(7).items).map(row =>
			[100 + row[thumb] / 3, row[index], row[middle]].map(Math.round),
		);
		const {result} = await runItems(itemsOf(rows, 100), {session: {fullScale: 1023, layout: 'thumb,index,middle'}});
		expect(result.records.map(({id, outcome}) => `${id} ${outcome}`)).toEqual(
			['rest', 'reel thumb', 'reel index', 'reel middle', 'hand', 'finger thumb', 'finger index', 'finger middle'].map(
				id => `${id} done`,
			),
		);
	});

	it('finds exchanged stick axes, a reversed axis and exchanged buttons', async () => {
		const rows = rowsOf(sampleSimulation(9).items).map(row => {
			const [x, y, one, two] = row.slice(5);
			return [...row.slice(0, 5), 1023 - y, x, two, one];
		});
		const {result} = await runItems(itemsOf(rows, 100));
		expect(result.findings.map(({code, channel}) => `${code} ${channel}`)).toEqual([
			'swapped-channels button-1',
			'swapped-channels button-2',
			'stick-swapped stick-x',
			'stick-reversed stick-y',
		]);
		expect(result.asBuilt.channels.slice(5).map(({name}) => name)).toEqual([
			'stick-y',
			'stick-x',
			'button-2',
			'button-1',
		]);
		expect(result.asBuilt.channels.find(({name}) => name === 'stick-y')!.inverted).toBe(true);
		expect(result.asBuilt.channels.find(({name}) => name === 'stick-x')!.inverted).toBe(false);
	});

	it('follows the sheet about what is reversed: an axis mounted like that is none', async () => {
		const names = [...fingers, 'stick-x', 'stick-y', 'button-1', 'button-2'];
		const sheet = {
			channels: names.map(name => ({
				name,
				...(name === 'little' && {inverted: true}),
				...(name === 'thumb' && {inverted: true}),
			})),
		};
		const {items} = sampleSimulation(3, {reversed: ['little']});
		const {result} = await runItems(items, {sheet});
		expect(result.findings.map(({code, channel}) => `${code} ${channel}`)).toEqual(['reversed-sensor thumb']);
	});
});

describe('ranges as built', () => {
	it.each([1])(
		'are within a hundredth of full scale of the readings really used by the hand, seed %i',
		expectRangesUsed,
	);

	it('have the centre of the stick within 1 % FS', async () => {
		for (const seed of [1, 2, 3, 4]) {
			const {truth} = sampleSimulation(seed);
			const {result} = await sampleRun(seed);
			const [x, y] = truth.stickCentre!;
			const error = Math.max(Math.abs(result.stick!.x.centre! - x), Math.abs(result.stick!.y.centre! - y));
			expect(error / truth.outputFullScale, `seed ${seed}`).toBeLessThan(0.01);
		}
	});

	it('are no wider than the whole session', () => {
		// Guards the truth above: the quiet twin of the same seed moves the same way.
		const ranges = quietRanges(bringUpSample(1));
		expect(ranges.get('thumb')!.high - ranges.get('thumb')!.low).toBeGreaterThan(500);
	});
});

describe('bring-up with a dead channel', () => {
	it.each(['stuck-low', 'stuck-mid'])('fails the finger, tells the others apart (%s)', async code => {
		const {items, truth} = changedSimulation(4, {faults: [{code, channel: 'middle'}]});
		const {result} = await runItems(items);
		expect(result.missing).toEqual([]);
		expect(result.acceptance.map(({name, verdict}) => `${name} ${verdict}`).slice(0, 5)).toEqual([
			'thumb pass',
			'index pass',
			'middle fail',
			'ring pass',
			'little pass',
		]);
		expect(result.fingers.map(({column}) => truth.columns[column])).toEqual(fingers);
		expect(result.findings.map(({code: found, channel}) => `${found} ${channel}`)).toContain(`${code} middle`);
		// The one that nothing answered stands in its place in time.
		const times = result.records.map(({from}) => from);
		expect(times).toEqual([...times].sort((one, other) => one - other));
		expect(result.verdict).toBe('fail');
	});

	it('finds one cause only where an input is open: which way it goes says nothing', async () => {
		const {items} = changedSimulation(4, {faults: [{code: 'floating-input', channel: 'ring'}]});
		const {result} = await runItems(items);
		expect(result.findings.map(({code, channel}) => `${code} ${channel}`)).toEqual(['floating-input ring']);
		expect(result.acceptance.find(({name}) => name === 'ring')!.verdict).toBe('fail');
	});

	it('waits for ever for what somebody is prompted for', async () => {
		const still = itemsOf(
			Array.from({length: 4000}, (_, i) => [500 + (i % 2), 500, 500, 500, 500]),
			100,
		);
		const {bringUp} = await runItems(still, {isPrompted: true, session: {fullScale: 1023, layout: fingers.join(',')}});
		expect(bringUp.records.map(({id, outcome}) => `${id} ${outcome}`)).toEqual(['rest done']);
		expect(bringUp.step?.id).toBe('reel thumb');
	});
});

describe('waiting', () => {
	it('is told of after twelve seconds without an answer, once', async () => {
		const hints: string[] = [];
		const still = itemsOf(
			Array.from({length: 2500}, (_, i) => [500 + (i % 2), 500, 500, 500, 500]),
			100,
		);
		await runItems(still, {
			isPrompted: true,
			session: {fullScale: 1023, layout: fingers.join(',')},
			onEvent: event => event.kind === 'hint' && hints.push(`${Math.floor(event.t)} ${event.text}`),
		});
		expect(hints).toEqual(['15 Nothing has answered yet: it waits. x skips this.']);
	});
});

describe('a glove that is held in the hand', () => {
	it('is asked to be put down, for as long as it takes', async () => {
		const hints: string[] = [];
		const held = itemsOf(
			Array.from({length: 2700}, (_, i) =>
				[0, 1, 2, 3, 4].map(place => 500 + Math.round(60 * Math.sin(i / 9 + place))),
			),
			100,
		);
		const {bringUp} = await runItems(held, {
			isPrompted: true,
			session: {fullScale: 1023, layout: fingers.join(',')},
			onEvent: event => event.kind === 'hint' && hints.push(event.text),
		});
		expect(hints[0]).toBe('It does not lie still yet: put it down and let go of it.');
		expect(bringUp.step?.id).toBe('rest');
	});
});

describe('silence', () => {
	it('is told while it lasts, and does not end the step', async () => {
		const {items} = sampleSimulation(7);
		const gap = items.flatMap(item => (item.t < 1 ? [item] : item.t > 4 ? [] : [{...item, t: item.t + 4}]));
		const seen: string[] = [];
		const {bringUp} = await runItems(gap, {
			isPrompted: true,
			watch: (running, {t}) => {
				if (Math.abs(t - 2) < 0.05 || Math.abs(t - 4) < 0.05 || Math.abs(t - 6) < 0.05)
					seen.push(`${t.toFixed(0)} ${running.step?.id} ${running.hint}`);
			},
		});
		expect(seen).toEqual([
			'2 rest null',
			'4 rest Nothing arrives from the glove: cable, power? It goes on here when frames come again.',
			'6 rest null',
		]);
		expect(bringUp.records.every(({outcome}) => outcome === 'done')).toBe(true);
	});
});

describe('a routine that is broken off', () => {
	it('begins anew where the stream has other columns', async () => {
		const {items} = sampleSimulation(7);
		const records = [{id: 'rest', outcome: 'done', from: 0, to: 3, column: null}] as const;
		const {bringUp} = await runItems(items.slice(0, 100), {earlier: {columns: ['thumb'], records}});
		expect(bringUp.records).toEqual([]);
	});
});

describe('keys', () => {
	it('skip leaves a step open, repeat does the one before again', async () => {
		let done = 0;
		const {result, bringUp} = await runItems(sampleSimulation(7).items, {
			isPrompted: true,
			watch: (running, session) => {
				if (done === 0 && session.t >= 0.5) {
					running.skip();
					done++;
					expect(running.step!.id).toBe('reel thumb');
				} else if (done === 1 && session.t >= 1) {
					running.repeat();
					done++;
					expect(running.step!.id).toBe('rest');
				} else if (done === 2 && running.step?.kind === 'button') {
					running.skip();
					running.skip();
					done++;
				}
			},
		});
		expect(done).toBe(3);
		expect(bringUp.records[0]).toMatchObject({id: 'rest', outcome: 'done'});
		expect(result.acceptance.slice(-2).map(({verdict, reasons}) => [verdict, ...reasons])).toEqual([
			['open', 'skipped'],
			['open', 'skipped'],
		]);
		expect(result.verdict).toBe('incomplete');
	});
});

describe('an answer that comes twice', () => {
	it('does not answer the next prompt: a side pushed again, a button pressed again', async () => {
		const {items} = sampleSimulation(7);
		const whole = await sampleRun(7, {}, {isPrompted: true});
		const rows = rowsOf(items);
		const during = (id: string) => {
			const {from, to} = whole.result.records.find(record => record.id === id)!;
			return rows.slice(Math.round(100 * from), Math.round(100 * to));
		};
		const again = whole.bringUp.steps.flatMap(({id}) =>
			id === 'stick down' || id === 'button-1' ? [...during(id), ...during(id)] : during(id),
		);
		const hints: string[] = [];
		const {result} = await runItems(itemsOf([...again, ...rows.slice(-100)], 100), {
			isPrompted: true,
			onEvent: event => event.kind === 'hint' && hints.push(event.text),
		});
		expect(hints).toEqual([
			'That side has answered already: only the one asked for, please.',
			'BUTTON-1 was pressed, BUTTON-2 was asked. BUTTON-1 has answered already: press BUTTON-2.',
		]);
		expect(result.findings).toEqual([]);
		expect(result.verdict).toBe('pass');
	});
});

describe('another reel than the one asked for', () => {
	/** A bench on which the routine runs; `do` what a hand does, then `pass` time. */
	function bench(open: readonly number[] = []) {
		const feeder = new BenchFeeder({open});
		const session = new Session({timing: 'measured', fullScale: 1023});
		const routine = new Routine({isPrompted: true});
		let frames = 0;
		const pass = (seconds: number) => {
			for (let end = frames + seconds * feeder.rate; frames < end; frames++) {
				session.push({t: frames / feeder.rate, bytes: new TextEncoder().encode(feeder.next())});
				if (frames % 10 === 0) routine.follow(session);
			}

			routine.follow(session);
			return routine.bringUp!;
		};
		return {feeder, pass, session};
	}

	it('does not count, is named with the one asked for, and the right one goes on', () => {
		const {feeder, pass} = bench();
		expect(pass(5).step?.id).toBe('reel thumb');
		feeder.pull(3, 3);
		const wrong = pass(6);
		expect(wrong.step?.id).toBe('reel thumb');
		expect(wrong.count).toBe(0);
		expect(wrong.wrong).toEqual({name: 'ring', mayBeCrossed: true});
		expect(wrong.hint).toBe(
			'RING moved, THUMB was asked. Wrong cord? pull THUMB. Right cord? then the wires are crossed: enter.',
		);
		feeder.pull(0, 3);
		const right = pass(6);
		expect(right.records.at(-1)).toMatchObject({id: 'reel thumb', outcome: 'done', column: 0});
		expect(right.wrong).toBeNull();
	});

	it('is taken for it when told that the wires are crossed, with the pulls it has made', () => {
		const {feeder, pass} = bench();
		pass(5);
		feeder.pull(3, 2);
		const bringUp = pass(5);
		bringUp.take();
		expect(bringUp).toMatchObject({count: 2, hint: null, wrong: null});
		feeder.pull(3, 1);
		expect(pass(4).records.at(-1)).toMatchObject({id: 'reel thumb', outcome: 'done', column: 3});
		// It has answered: taken for another one it cannot be.
		feeder.pull(3, 1);
		expect(pass(3)).toMatchObject({
			wrong: {name: 'ring', mayBeCrossed: false},
			hint: 'RING moved, INDEX was asked. RING has answered already: pull INDEX.',
		});
	});

	it('is never an open pin', () => {
		const {feeder, pass} = bench([4]);
		pass(16);
		feeder.pull(0, 3);
		const bringUp = pass(8);
		expect(bringUp.wrong).toBeNull();
		expect(bringUp.records.map(({id}) => id)).toContain('reel thumb');
	});

	it('is the same for buttons', () => {
		const {feeder, pass} = bench();
		const bringUp = pass(5);
		feeder.press(1);
		pass(1);
		while (bringUp.step?.kind !== 'button') bringUp.skip();
		feeder.press(1);
		pass(1);
		expect(bringUp.hint).toMatch(/^BUTTON-2 was pressed, BUTTON-1 was asked\. Wrong button\? press BUTTON-1\./);
		bringUp.take();
		feeder.press(1);
		expect(pass(1).records.at(-1)).toMatchObject({id: 'button-1', column: 8});
	});

	it('takes up where it was when the port was gone for a while', () => {
		const {feeder, pass, session} = bench();
		pass(5);
		feeder.pull(0, 2);
		const before = pass(4);
		expect(before.count).toBe(2);
		const t = session.t;
		session.push({t: t + 0.1, event: 'port-lost'});
		session.push({t: t + 0.2, event: 'reattached'});
		pass(2);
		feeder.pull(0, 1);
		expect(pass(3).records.at(-1)).toMatchObject({id: 'reel thumb', outcome: 'done', column: 0});
	});
});
