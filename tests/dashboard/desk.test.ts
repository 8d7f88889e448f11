import {describe, expect, it} from 'vitest';
import type {Guide, GuideView} from '../../source/bringup/guide.ts';
import {Desk} from '../../source/dashboard/desk.ts';
import type {Station} from '../../source/dashboard/glove-view.ts';
import {ItemTape} from '../../source/dashboard/item-tape.ts';
import {LiveGlove} from '../../source/dashboard/live-glove.ts';
import {ReplayPlayer} from '../../source/dashboard/replay-player.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {memorySource} from '../gloves/memory-source.ts';
import {floatingRing, type PlayGlove, playGlove} from './play-glove.ts';

const options = {timing: 'measured', baud: 115200} as const;
const size = {columns: 80, rows: 24};
const mark: SourceItem = {t: 20, mark: 'mended'};
const items = [...playGlove(floatingRing), mark].toSorted((a, b) => a.t - b.t);

function replayDesk(given: readonly SourceItem[] = items) {
	const player = new ReplayPlayer(ItemTape.of(given), options);
	while (player.readAhead(100, () => 0));
	const station: Station = {name: 'left.gbrec', kind: 'recording', baud: 115200, player};
	const desk = new Desk([station], {
		mode: 'replay',
		startRecording: () => () => Promise.reject(new Error()),
		recordingPath: () => '',
		// However busy the machine is: no slice of work ends early.
		stopwatch: () => 0,
	});
	return {desk, player};
}

function liveDesk(bell = false, glove: PlayGlove = floatingRing, guide?: Guide) {
	let now = 0;
	const written: SourceItem[] = [];
	const source = {...memorySource([]), now: () => now};
	const live = new LiveGlove(source, options);
	const writer = {
		path: 'x.gbrec',
		bytes: 0,
		write: (item: SourceItem) => void written.push(item),
		close: async () => {},
	};
	const desk = new Desk([{name: '/dev/ttyUSB0', kind: 'serial', baud: 115200, live, ...(guide && {guide})}], {
		mode: 'live',
		bell,
		startRecording: () => async () => writer as never,
		recordingPath: () => 'x.gbrec',
	});
	const pass = (seconds: number) => {
		for (const item of playGlove(glove)) {
			if (item.t >= now && item.t < now + seconds) live.session.push(item);
		}

		now += seconds;
		desk.tick(now * 1000);
		return desk.pictures(size)[0];
	};
	return {desk, live, written, pass};
}

it('leaves the checks unasked for where no page shows them: working them out costs a quarter of a drawing', () => {
	const {pass} = liveDesk();
	pass(2);
	const picture = pass(1);
	for (const shown of [picture.live, picture.steady]) {
		expect(Object.getOwnPropertyDescriptor(shown, 'checks')?.value).toBeUndefined();
		expect(shown.checks.length).toBeGreaterThan(0);
	}
});

describe('a replay on the desk', () => {
	it('plays as time passes, at the speed asked for', () => {
		const {desk, player} = replayDesk();
		desk.tick(0);
		desk.tick(1000);
		expect(player.t).toBeCloseTo(1, 9);
		desk.handle({type: 'speed', speed: 10});
		desk.tick(1500);
		expect(player.t).toBeCloseTo(6, 9);
	});

	it('stands still while held, and is held when it has played out', () => {
		const {desk, player} = replayDesk();
		desk.handle({type: 'hold'});
		desk.tick(0);
		desk.tick(5000);
		expect(player.t).toBe(0);
		desk.handle({type: 'edge', edge: 'end'});
		desk.handle({type: 'hold'});
		expect(player.t).toBe(0);
		player.seek(player.duration);
		desk.tick(6000);
		expect(desk.view.held).toBe(true);
	});

	it('starts again at its end when it cycles', () => {
		const {desk, player} = replayDesk();
		desk.handle({type: 'loop'});
		player.seek(player.duration);
		desk.tick(0);
		expect(player.t).toBe(0);
		expect(desk.view.held).toBe(false);
	});

	it('goes to findings and marks, and says when there is none', () => {
		const {desk, player} = replayDesk();
		const [first] = player.findingsAhead;
		desk.handle({type: 'to-finding', by: 1});
		expect(player.t).toBe(first.flaggedAt);
		expect(desk.pictures(size)[0].live.findings).toHaveLength(1);
		desk.handle({type: 'to-mark', by: 1});
		desk.handle({type: 'to-finding', by: -1});
		desk.handle({type: 'to-finding', by: -1});
		desk.tick(10);
		expect(desk.pictures(size)[0].notice).toBe('No finding before this place.');
	});

	it('gives the page’s trend one bucket per column', () => {
		const {desk} = replayDesk();
		for (let time = 0; time < 3; time++) desk.handle({type: 'travel', by: 1});
		desk.pictures(size);
		desk.handle({type: 'page', page: 'trend'});
		const {trend} = desk.pictures(size)[0];
		expect(trend).toMatchObject({from: 0, to: 20, series: [{name: 'thumb'}]});
		expect(trend!.series[0].buckets).toHaveLength(79 - 6);
	});

	it('keeps the second in which the selected finding began at hand', () => {
		const {desk} = replayDesk();
		desk.handle({type: 'edge', edge: 'end'});
		desk.handle({type: 'page', page: 'findings'});
		expect(desk.pictures(size)[0].freezeFrame?.times.length).toBeGreaterThan(50);
	});
});

describe('a live glove on the desk', () => {
	it('gives fresh bars and figures that stand still for a quarter of a second', () => {
		const {pass} = liveDesk();
		pass(1.35);
		const first = pass(0.3).steady.channels[0].now;
		expect(pass(0.1).steady.channels[0].now).toBe(first);
		expect(pass(0.1).live.channels[0].now).not.toBe(first);
		expect(pass(0.1).steady.channels[0].now).not.toBe(first);
	});

	it('holds the picture while data goes on', () => {
		const {desk, live, pass} = liveDesk();
		pass(2);
		desk.handle({type: 'hold'});
		const held = pass(0.1);
		const later = pass(3);
		expect(later.live).toEqual(held.live);
		expect(live.session.link.frames).toBe(510);
		desk.handle({type: 'hold'});
		expect(pass(0.1).live.t).toBeGreaterThan(held.live.t);
	});

	it('writes a mark into the recording that runs, with the time it was made', async () => {
		const {desk, written, pass} = liveDesk();
		pass(2);
		desk.handle({type: 'record'});
		await desk.close();
		pass(1);
		const again = liveDesk();
		again.pass(2);
		await again.desk.startRecording(0, 'x.gbrec');
		again.pass(1);
		for (const text of ['reel', ' 3']) {
			again.desk.handle({type: 'entry', what: 'mark'});
			again.desk.handle({type: 'entry-typed', text});
			again.desk.handle({type: 'entry-keep'});
		}

		await again.desk.close();
		expect(again.live.session.marks).toEqual([
			{t: 3, mark: 'reel'},
			{t: 3, mark: '3'},
		]);
		expect(again.written.filter(item => 'mark' in item).map(item => item.t)).toEqual([3, 3]);
		expect(written).toEqual([]);
	});

	it('forgets what was learned of a channel, notes it, and says so', async () => {
		const {desk, live, pass} = liveDesk();
		// A hand that has moved for five seconds, and rests.
		const before = pass(6.5).live.channels[0];
		expect(before.max - before.min).toBeGreaterThan(500);
		desk.handle({type: 'select', by: 1});
		desk.handle({type: 'forget', all: false});
		await new Promise(resolve => setImmediate(resolve));
		await new Promise(resolve => setImmediate(resolve));
		expect(pass(0.1).notice).toContain('Forgotten of thumb');
		expect(live.session.events.at(-1)).toMatchObject({event: 'forgotten', detail: 'thumb'});
		const now = pass(1).live.channels[0];
		expect(now.max - now.min).toBeLessThan(10);
	});

	it('counts the seconds of silence', () => {
		const {pass, live} = liveDesk();
		pass(3);
		live.session.advance(9.5);
		expect(pass(0).silentFor).toBe(6);
	});

	it('rings once for what is proven, twice for what is lost or faulty, and only with the bell on', () => {
		const quiet = liveDesk(false);
		quiet.pass(30);
		expect(quiet.desk.takeBells()).toBe(0);
		const {desk, pass} = liveDesk(true);
		pass(1);
		expect(desk.takeBells()).toBe(0);
		pass(10);
		expect(desk.takeBells()).toBe(1);
		expect(desk.takeBells()).toBe(0);
		// The ring finger's wiper is open from 12 s on.
		pass(10);
		expect(desk.takeBells()).toBe(2);
		desk.press('b');
		expect(desk.view.bell).toBe(false);
	});

	it('rings for every mark that is read along a ruler', () => {
		const asked = {step: 8, marks: 0} as GuideView;
		let marks = 0;
		const guide = {
			get view() {
				return {...asked, marks};
			},
			follow: () => {},
		} as unknown as Guide;
		const {desk, pass} = liveDesk(true, {seconds: 60}, guide);
		pass(1);
		desk.takeBells();
		const bells = [0, 1, 1, 2, 0].map(read => {
			marks = read;
			pass(0.2);
			return desk.takeBells();
		});
		expect(bells).toEqual([0, 1, 0, 1, 0]);
	});

	it('says of a key that does nothing that it does nothing', () => {
		const {desk, pass} = liveDesk();
		pass(1);
		expect(desk.press('n')).toEqual([]);
		expect(pass(0.1).notice).toBe('n does nothing on a live glove: ? lists the keys.');
		expect(desk.press('q')).toEqual([{do: 'leave', interrupted: false}]);
	});

	it('gives one and the same picture while a resting hand sends noise', () => {
		const {pass} = liveDesk(false, {seconds: 40});
		pass(18);
		const pictures = Array.from({length: 7}, () => pass(0.1));
		const looks = new Set(
			pictures.map(({live}) => JSON.stringify(live.channels.map(({now, min, max}) => [now, min, max]))),
		);
		expect(looks.size).toBe(1);
	});
});

it('goes to the time that was typed, and says so where it is none', () => {
	const {desk, player} = replayDesk();
	const type = (text: string) => {
		desk.handle({type: 'entry', what: 'time'});
		desk.handle({type: 'entry-typed', text});
		desk.handle({type: 'entry-keep'});
	};
	type('0:30.5');
	expect(player.t).toBe(30.5);
	type('soon');
	expect(player.t).toBe(30.5);
	expect(desk.pictures(size)[0].notice).toContain('"soon" is no time');
});
