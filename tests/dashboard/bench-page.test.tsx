import {render} from 'ink-testing-library';
import {describe, expect, it} from 'vitest';
import type {GuideView} from '../../source/bringup/guide.ts';
import {benchLead} from '../../source/dashboard/bench-lead.ts';
import {benchPage} from '../../source/dashboard/bench-page.ts';
import type {GlovePicture} from '../../source/dashboard/glove-picture.ts';
import {findFault} from '../../source/faults/registry.ts';
import type {Look} from '../../source/screen/look.ts';
import {Panels} from '../../source/screen/Panels.tsx';
import type {ChannelView, Snapshot} from '../../source/session/snapshot.ts';
import {asciiLook, healthy, makeFinding, makePicture, plainLook, withChannel} from './sample-picture.ts';

const calm: Snapshot = {...healthy, findings: [], notes: [], events: []};
const all = (snapshot: Snapshot, fields: Partial<ChannelView>): Snapshot => ({
	...snapshot,
	channels: snapshot.channels.map(channel => ({...channel, ...fields})),
});
const proven = all(calm, {state: 'proven', pulls: {seen: 2, needed: 2}, movedItselfAt: 1, movedBy: 0.6});
const unproven = all(calm, {state: 'waiting', pulls: {seen: 0, needed: 2}, movedItselfAt: null, movedBy: 0});

function linesOf(picture: GlovePicture, width = 79, height = 21, look: Look = plainLook): string[] {
	const part = benchPage({picture, selected: null, catalogue: findFault, width, height, look});
	const {lastFrame, unmount} = render(<Panels part={part} look={look} />);
	const frame = lastFrame() ?? '';
	unmount();
	return frame.split('\n');
}

const textOf = (...given: Parameters<typeof linesOf>) => linesOf(...given).join('\n');

const guide: GuideView = {
	step: 3,
	steps: 19,
	prompt: 'Index reel: pull its cord out by hand and let it go, three times.',
	asked: 'index',
	count: 1,
	need: 3,
	marks: 0,
	hint: null,
	moved: null,
	mayTake: false,
	last: 'Before: thumb answered: rises by 65 % FS, 3 times',
	isOver: false,
	answers: new Map([['thumb', 'on ring']]),
};

describe('assembling in any order', () => {
	it('asks for the first that is not proven, and goes on with what was begun', () => {
		const some = withChannel(unproven, 'thumb', {state: 'proven'});
		expect(benchLead(some, null)).toMatchObject({proven: 1, next: {name: 'index'}});
		const begun = withChannel(some, 'ring', {pulls: {seen: 1, needed: 2}});
		expect(benchLead(begun, 'ring')).toMatchObject({
			next: {name: 'ring'},
			what: 'pull its cord and let go, once more',
		});
	});

	it('asks to wire an open pin, and puts what was lost before everything', () => {
		expect(benchLead(all(unproven, {state: 'open'}), null).what).toMatch(/^wire it, then pull its cord/);
		const lost = withChannel(unproven, 'little', {state: 'lost'});
		expect(benchLead(lost, null)).toMatchObject({next: {name: 'little'}, what: 'mend its wire'});
	});

	it('shows how many are proven, what comes next, and its name in letters of five rows', () => {
		const lines = linesOf(makePicture(unproven));
		expect(lines[0]).toBe(' ASSEMBLING  0 of 9 proven');
		expect(lines[1]).toBe(' NEXT  THUMB: pull its cord and let go, twice');
		expect(lines.slice(2, 7).every(line => line.includes('██'))).toBe(true);
		expect(lines[7]).toMatch(/^ {2}next {3}□ □ /);
	});

	it('says DONE in large letters with all proven, and what to run next', () => {
		const lines = linesOf(makePicture(proven));
		expect(lines[0]).toBe(' DONE  9 of 9 proven');
		expect(lines[1]).toContain('glovebench bringup');
		expect(lines[7].trim()).toBe('all proven');
	});

	it('shows what just moved for a while, then what comes next again', () => {
		const moved = withChannel(unproven, 'ring', {
			movedItselfAt: unproven.t - 2,
			pulls: {seen: 2, needed: 2},
			state: 'proven',
		});
		expect(linesOf(makePicture(moved, {pulled: 'ring'})).join('\n')).toMatch(/\n {2}just moved {3}■ ■/);
		expect(linesOf(makePicture({...moved, t: moved.t + 9}, {pulled: 'ring'})).join('\n')).toMatch(/\n {2}next/);
	});

	it('shows both where there is room', () => {
		const moved = withChannel(unproven, 'ring', {movedItselfAt: unproven.t - 2, state: 'proven'});
		const text = textOf(makePicture(moved, {pulled: 'ring'}), 139, 42);
		expect(text).toMatch(/just moved/);
		expect(text).toMatch(/\n {2}next/);
	});

	it('never alarms over open pins, and lists them as still to wire', () => {
		const findings = [makeFinding({channel: 'ring', status: 'function-check', flaggedAt: unproven.t, first: true})];
		const text = textOf(makePicture({...withChannel(unproven, 'ring', {state: 'open'}), findings}));
		expect(text).not.toMatch(/NEW|DO FIRST/);
		expect(text).toContain('still to wire (open: no fault): ring');
		expect(text).toMatch(/ring +○ open/);
	});

	it('names what was lost at once, in words and in large letters', () => {
		const lines = linesOf(makePicture(withChannel(proven, 'ring', {state: 'lost'})));
		expect(lines[0]).toContain('LOST  RING was proven and is an open pin now');
		expect(lines[1]).toBe(' NEXT  RING: mend its wire');
		expect(lines.join('\n')).toMatch(/\n {2}LOST/);
	});

	it('has the advice of what to do first whole', () => {
		const advice = [
			'Wiggle each wire and connector of this pot in turn, one after the other — the reading stays steady; it jumps at the place that is broken',
		];
		const text = textOf(
			makePicture({...withChannel(proven, 'ring', {state: 'faulty'}), findings: [makeFinding({first: true, advice})]}),
		);
		expect(text.replace(/\s+/g, ' ')).toContain(advice[0]);
		expect(text).toContain('DO FIRST  ring: floating-input');
		expect(text).toContain('after that: nothing');
	});
});

describe('a bring-up on the same page', () => {
	it('says which step it is, what is asked for, and how often it has been seen', () => {
		const lines = linesOf(makePicture(unproven, {guide}));
		expect(lines[0]).toBe(' BRING-UP  step 3 of 19  ■ □ □');
		expect(lines[1]).toBe(` NEXT  ${guide.prompt}`);
		expect(lines.join('\n')).toMatch(/▸index/);
		expect(lines.join('\n')).toMatch(/thumb +on ring/);
		expect(lines.join('\n')).toContain(guide.last);
	});

	it('tells a wrong reel from the one that was asked, whole, with its name in large letters', () => {
		const hint = 'RING moved, INDEX was asked. Wrong cord? pull INDEX. Right cord? then the wires are crossed: enter.';
		const lines = linesOf(makePicture(unproven, {guide: {...guide, hint, moved: 'ring', mayTake: true}}));
		expect(`${lines[0]}${lines[1]}`.replace(/\s+/g, ' ').trim()).toBe(hint);
		expect(lines.join('\n')).toMatch(/\n {2}just moved/);
	});

	it('says DONE once all steps are', () => {
		const lines = linesOf(makePicture(proven, {guide: {...guide, step: 20, isOver: true, asked: 'done'}}));
		expect(lines[0]).toContain('DONE');
		expect(lines[1]).toContain('q ends, and writes the sheet as built');
	});

	it('says PORT GONE before what is asked for, and before what does not fit', () => {
		const hint = 'RING moved, INDEX was asked.';
		const lines = linesOf(makePicture(unproven, {guide: {...guide, hint, moved: 'ring'}, lostFor: 12}));
		expect(lines[0]).toMatch(/^ PORT GONE for 12 s\. Plug and cable\?/);
		expect(lines[1]).toContain('Index reel');
	});
});

describe('every size', () => {
	it('has exactly the rows it was given, with names, states and next step', () => {
		for (const [width, height] of [
			[59, 13],
			[79, 21],
			[119, 37],
			[199, 55],
		] as const) {
			for (const findings of [[], [makeFinding({first: true})]]) {
				const picture = makePicture({...withChannel(unproven, 'ring', {state: 'faulty'}), findings});
				const lines = linesOf(picture, width, height);
				expect(lines.length, `${width} x ${height}`).toBeLessThanOrEqual(height);
				const text = lines.join('\n');
				for (const {name} of unproven.channels) expect(text).toContain(name);
				expect(text).toContain('NEXT');
				if (findings.length > 0) expect(text.replace(/\s+/g, ' ')).toContain('Volts from the input pin to ground.');
			}
		}
	});

	it('is ASCII where asked to', () => {
		for (const line of linesOf(makePicture(unproven, {guide}), 79, 21, asciiLook)) expect(line).toMatch(/^[ -~]*$/);
	});
});
