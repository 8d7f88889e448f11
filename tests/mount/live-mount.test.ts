import {describe, expect, it} from 'vitest';
import {mountKeyLine, mountMessage} from '../../source/commands/mount-keys.ts';
import {handPicture} from '../../source/mount/hand-picture.ts';
import {LiveMount, type LiveMountView} from '../../source/mount/live-mount.ts';
import {liveMountPage, spokenMount} from '../../source/mount/live-mount-page.ts';
import type {KeyName} from '../../source/screen/key-name.ts';
import {makeLook} from '../../source/screen/look.ts';
import {panelsOf} from '../../source/screen/part.ts';
import {rowText} from '../../source/screen/rows.ts';
import {usualChoices} from './read-trial.ts';
import {drawTrial, errorsOf, type Trial, trialText} from './trial.ts';

const look = makeLook({ascii: false, colorDepth: 1});
const shown = (view: LiveMountView, size = {columns: 80, rows: 24}) =>
	panelsOf(liveMountPage(view, 'tcp://127.0.0.1:4444', false, size, look, mountKeyLine(false)))
		.flatMap(({rows}) => rows.map(rowText))
		.join('\n');

/** Plays a trial's log by the second; what the page was after each. */
function play(trial: Trial) {
	const live = new LiveMount('tcp://127.0.0.1:4444', usualChoices, undefined);
	const lines = trialText(trial).split('\n');
	const views: LiveMountView[] = [];
	let bells = 0;
	for (let at = 0; at < lines.length; at += 30) {
		live.push(`${lines.slice(at, at + 30).join('\n')}\n`, at / 30);
		views.push(live.update());
		bells += live.takeBells();
	}
	return {live, views, bells};
}

const trial = drawTrial({seed: 21, rate: 30, pivotSeconds: 20});
const {views, bells} = play(trial);

describe('the live page', () => {
	it('asks for one step after the other, and none twice, until all is known', () => {
		const words = views.map(({word}) => word).filter((word, index, all) => word !== all[index - 1]);
		expect(words).toEqual(
			['wait', 'palm', 'thumb-up', 'fingers', 'palm', 'thumb-up', 'fingers', 'pivot', 'done'].slice(
				words[0] === 'wait' ? 0 : 1,
			),
		);
		const last = views[views.length - 1];
		expect(last.isDone).toBe(true);
		const {degrees, mm} = errorsOf(trial, last.mount!.result.turn, last.mount!.result.point);
		expect(degrees).toBeLessThan(6);
		expect(mm).toBeLessThan(6);
	});

	it('rings once for each step', () => {
		expect(bells).toBe(7);
	});

	it('says how still the hand is, how far it was turned, and every number with its ±', () => {
		const held = views.find(({still, word}) => word === 'palm' && (still?.seconds ?? 0) > 0.5)!;
		expect(shown(held)).toMatch(/still \d\.\d s of 1\.5 s/);
		expect(shown(held)).toContain('Lay the hand on the table, palm down');
		const pivoting = views.find(({mount, isDone}) => !isDone && (mount?.result.swings.length ?? 0) > 0)!;
		expect(shown(pivoting)).toMatch(/Turned ±\d+° up and down, ±\d+°\s+sideways/);
		const page = shown(views[views.length - 1]);
		expect(page).toMatch(/DONE/);
		expect(page).toMatch(/point known to \d\.\d mm, 3 mm asked/);
		expect(page).toMatch(/x +-?\d+\.\d ±\d+\.\d mm/);
		expect(page).toContain('T');
		for (const line of page.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
		expect(page.split('\n').length).toBe(24);
	});

	it('names the axis that is turned too little', () => {
		const {views: own} = play(drawTrial({seed: 22, rate: 30, pivotSeconds: 16, swing: [1, 0, 25]}));
		const last = own[own.length - 1];
		expect(last.isDone).toBe(false);
		expect(last.prompt).toMatch(/(?:nod the hand|swing the hand from side to side).*only ±[0-4]°/);
		expect(last.mount!.result.point).toBeNull();
	});

	it('goes on after x, and back after u', () => {
		const live = new LiveMount('-', usualChoices, undefined);
		live.push(`${trialText(trial).split('\n').slice(0, 130).join('\n')}\n`, 0);
		expect(live.update().word).toBe('thumb-up');
		live.skip();
		expect(live.update().word).toBe('fingers');
		live.again();
		live.again();
		expect(live.update().word).toBe('palm');
	});

	it('asks for --device where several things are tracked', () => {
		const live = new LiveMount('-', usualChoices, undefined);
		const row = (t: number, name: string) => `${t},${name},0.${t % 10},1,2,1,0,0,0\n`;
		live.push(
			`t,device,x,y,z,qw,qx,qy,qz\n${Array.from({length: 20}, (_, t) => row(t, 'a') + row(t, 'b')).join('')}`,
			0,
		);
		expect(live.update().trouble).toMatch(/a, b.*--device/);
	});

	it('says in lines for a screen reader what has changed, and nothing else', () => {
		const said = views.flatMap((view, index) => spokenMount(view, views[index - 1]));
		expect(said.filter(line => /Next: lay the hand/.test(line))).toHaveLength(2);
		expect(said[said.length - 1]).toContain('Done');
	});

	it('is drawn from the least size on, and says so below it', () => {
		expect(shown(views[views.length - 1], {columns: 60, rows: 16}).split('\n').length).toBe(16);
		expect(shown(views[0], {columns: 40, rows: 10})).toContain('Too small');
	});
});

it('a picture has the hand’s axes, and the tracker where it is', () => {
	const alone = handPicture(30, 10, null).join('\n');
	for (const sign of ['x', 'y', 'z', 'o']) expect(alone).toContain(sign);
	expect(alone).not.toContain('T');
	const lines = handPicture(30, 10, {place: [0, 80, 0], turn: [1, 0, 0, 0]});
	const place = (sign: string) => {
		const y = lines.findIndex(line => line.includes(sign));
		return {x: lines[y].indexOf(sign), y};
	};
	// 80 mm out of the back of the hand: straight above its origin.
	expect(place('T').x).toBe(place('o').x);
	expect(place('T').y).toBeLessThan(place('o').y);
});

it('has the keys of all screens', () => {
	expect(mountKeyLine(false)).toBe(' x skip   u again   b bell on   q quit');
	expect(['x', 'u', 'b', 'q', 'ctrl-c', 'ctrl-l', 'j'].map(key => mountMessage(key as KeyName)?.type)).toEqual([
		'guide',
		'guide',
		'bell',
		'quit',
		'interrupt',
		'redraw',
		undefined,
	]);
});
