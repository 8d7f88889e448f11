import {expect, test} from 'vitest';
import {profileText, StageProfile} from '../../source/report/stage-profile.ts';
import {Session} from '../../source/session/session.ts';
import {type Stage, type StageMeter, stages} from '../../source/session/stage-meter.ts';

/** A clock that takes a hundredth of a millisecond to look at, and of which a test says how much passes besides. */
function clockOf(): {nowMs: () => number; pass: (ms: number) => void} {
	let ms = 0;
	return {
		nowMs: () => {
			ms += 0.01;
			return ms;
		},
		pass: passed => {
			ms += passed;
		},
	};
}

test('charges each stage with the time until the next one begins, the looks at the clock left out', () => {
	const clock = clockOf();
	const profile = new StageProfile(clock.nowMs);
	clock.pass(2);
	const before = profile.enter('framing');
	clock.pass(3);
	profile.enter('blocks');
	clock.pass(5);
	profile.enter(before);
	clock.pass(1);
	const spent = profile.nanosecondsAFrame(1000);
	expect(before).toBe('source');
	expect(spent.source).toBeCloseTo(3000, -2);
	expect(spent.framing).toBeCloseTo(3000, -2);
	expect(spent.blocks).toBeCloseTo(5000, -2);
	expect(spent.checks).toBe(0);
	expect(profileText(profile, 1000)).toMatch(/^stages of 1000 frames\n(?: {2}\w+ +\d+ ns a frame\n){7}$/);
});

test('a session tells every stage, and its findings are the same with the counter and without it', () => {
	const run = (meter?: StageMeter): string => {
		const session = new Session({timing: 'measured', ...(meter && {meter})});
		for (let n = 0; n < 400; n++)
			session.push({t: n / 100, bytes: Buffer.from(`${500 + (n % 9)},${400 + (n % 7)},${n % 3 ? 512 : 0}\r\n`)});
		session.end();
		return JSON.stringify(session.snapshot());
	};
	const told: Stage[] = ['source'];
	const meter: StageMeter = {enter: stage => told[told.push(stage) - 2]};
	expect(run(meter)).toBe(run());
	expect(new Set(told)).toEqual(new Set(stages));
});
