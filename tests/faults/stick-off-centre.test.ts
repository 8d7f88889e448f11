import {expect, test} from 'vitest';
import type {Session} from '../../source/session/session.ts';
import {type Drawing, found, held, sessionOver} from '../gloves/draw.ts';
import {pushed, type Stick} from '../gloves/thumb-stick.ts';

// Check-values D5.4, stick-off-centre: rests 12 % FS or more away from mid-scale; before the first push at function-check.

const glove = (stick: Stick, more: Partial<Drawing> = {}): Drawing => ({
	channels: {thumb: held(20), ...stick},
	seconds: 12,
	...more,
});
const once = [{at: 5, x: 90, y: -90}];
const findingOn = (session: Session, axis: string) =>
	session.findings.find(({code, channel, to}) => code === 'stick-off-centre' && channel === axis && to === null);

test.each([
	['12 % above the middle', pushed(once, 62), {}],
	['12 % below it', pushed(once, 38), {}],
	['fed with 5 V on a 3.3 V board', pushed(once, 76), {}],
	['on a noisy 12-bit board', pushed(once, 62), {fullScale: 4095, noise: 0.34}],
	['at 20 frames a second', pushed(once, 62), {rate: 20}],
])('is raised once it has been pushed: %s', (_title, stick, more) => {
	const session = sessionOver(glove(stick, more));
	expect(findingOn(session, 'stick-x')?.status).toBe('out-of-spec');
	expect(found(session).filter(code => code.startsWith('st'))).toEqual(['stick-off-centre stick-x']);
});

test('tells where it rests, how far from the middle, and how still', () => {
	const finding = findingOn(sessionOver(glove(pushed(once, 62), {noise: 0.4})), 'stick-x');
	expect(finding?.evidence).toMatchObject({
		restCounts: expect.closeTo(0.62 * 1023, -1),
		offCentrePercentFs: expect.closeTo(12, 0),
	});
	// Of 0.4 % FS that was drawn, from a few seconds.
	expect(finding?.evidence.restNoisePercentFs).toBeGreaterThan(0.3);
	expect(finding?.evidence.restNoisePercentFs).toBeLessThan(0.5);
});

test('is a function check before the first push, and asks for one', () => {
	const finding = findingOn(sessionOver(glove(pushed([], 38))), 'stick-x');
	expect(finding?.status).toBe('function-check');
	expect(finding?.summary).toContain('off centre, or not wired yet: push it once');
	// Two seconds of stillness and the quarter second in which they are full.
	expect(finding?.flaggedAt).toBeLessThanOrEqual(2.75);
});

test.each([
	['6 % off', pushed(once, 56, 44), {}],
	['a stick that nobody touches', pushed([], 53, 48), {}],
	['a stick that is held aside for a second and a half at first', pushed([{at: 0, x: 60, hold: 1.4}]), {seconds: 6}],
	['a stick that is held at its stop for most of the time', pushed([{at: 2, x: 95, hold: 20}]), {seconds: 30}],
])('is silent: %s', (_title, stick, more) => {
	expect(found(sessionOver(glove(stick, more))).filter(code => code.startsWith('stick'))).toEqual([]);
});

test.each([
	['nothing has shown that there are more than eight bits', pushed([], 12.4, 12.4)],
	['the readings may be millivolts of a 3.3 V board', {...pushed([], 40.3, 40.3), index: held(78)}],
])('judges no stick by a scale that is a guess: %s', (_title, stick) => {
	const drawing = {...glove(stick as Stick), fullScale: stick['stick-x'](0) < 20 ? 1023 : 4095};
	const layout = Object.keys(drawing.channels).join(',');
	expect(found(sessionOver(drawing, {fullScale: null, layout}))).toEqual([]);
});

test('is explained by an axis that lies at a rail', () => {
	expect(found(sessionOver(glove(pushed([], 0))))).toEqual(['stuck-low stick-x']);
});

test('is not asked of a stick with an open pin', () => {
	const noise = {thumb: 0.1, 'stick-x': 8, 'stick-y': 0.1};
	const session = sessionOver(glove(pushed([], 30, 30), {noise}));
	expect(session.snapshot().channels.map(({state}) => state)).toContain('open');
	expect(session.snapshot().checks.filter(({code}) => code.startsWith('stick-'))).toEqual([]);
});

test('waits for a push where the stick rests in the middle', () => {
	const row = (stick: Stick) =>
		sessionOver(glove(stick))
			.snapshot()
			.checks.find(({code, channel}) => code === 'stick-off-centre' && channel === 'stick-x');
	expect(row(pushed([]))).toMatchObject({
		state: 'waiting',
		seen: 0,
		needed: 1,
		next: 'push the stick along this axis and let it go',
	});
	expect(row(pushed(once))).toMatchObject({state: 'clear'});
});
