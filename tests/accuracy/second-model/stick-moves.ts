import type {Plan, Push} from './plan.ts';
import {minimumJerk} from './strokes.ts';

type Side = readonly [axis: 'x' | 'y', side: 1 | -1];

export const sides: readonly Side[] = [
	['x', 1],
	['x', -1],
	['y', 1],
	['y', -1],
];

type PushTimes = {readonly out: number; readonly hold: number; readonly back: number};

/** One push to a side and back. Depth 1 is the stop. */
export function push(plan: Plan, [axis, side]: Side, depth: number, {out, hold, back}: PushTimes): void {
	const along = (share: number): readonly [number, number] =>
		axis === 'x' ? [side * depth * share, 0] : [0, side * depth * share];
	plan.stick.push({
		start: plan.t,
		seconds: out + hold + back,
		at: t => along(Math.min(minimumJerk(t / out), 1 - minimumJerk((t - out - hold) / back))),
	});
	plan.pushes.push({axis, side, depth, end: plan.t + out + hold} satisfies Push);
	plan.wait(out + hold + back);
	if (depth > 0.35) plan.releases.push(plan.t + 0.2);
}

/** Pushes to the stop at every side, in any order. The spring brings the stick back in 50 to 120 ms (common practice, no source). */
export function pushSides(plan: Plan, times: number): void {
	const {random} = plan;
	for (let n = 0; n < times; n++) {
		for (const side of random.shuffle(sides)) {
			push(plan, side, random.uniform(0.985, 1), {
				out: random.uniform(0.1, 0.3),
				hold: random.uniform(0.12, 0.7),
				back: random.uniform(0.05, 0.12),
			});
			plan.wait(random.uniform(0.45, 1.2));
		}
	}
}

/** Flicks: out and back within a fifth of a second, to the stop or nearly. */
export function flicks(plan: Plan, times: number): void {
	const {random} = plan;
	for (let n = 0; n < times; n++) {
		for (const side of random.shuffle(sides)) {
			const depth = random.chance(0.6) ? random.uniform(0.985, 1) : random.uniform(0.87, 0.98);
			push(plan, side, depth, {
				out: random.uniform(0.05, 0.09),
				hold: random.uniform(0, 0.05),
				back: random.uniform(0.05, 0.08),
			});
			plan.wait(random.uniform(0.3, 0.9));
		}
	}
}

/** Half pushes, held outside the middle quarter. They scatter, as there is no stop to end at. */
export function halfStickPushes(plan: Plan, times: number): void {
	const {random} = plan;
	for (const side of random.shuffle(sides)) {
		// One of each kind, so that no two ends could be taken for a stop.
		const depths = random.shuffle([0.42, 0.52, 0.62, 0.72]).slice(0, times);
		for (const depth of depths) {
			push(plan, side, depth + random.uniform(-0.02, 0.02), {out: 0.25, hold: random.uniform(0.4, 2), back: 0.1});
			plan.wait(random.uniform(0.5, 1));
		}
	}
}

/** The thumb lies on the stick: light pushes within the middle quarter, held for seconds. */
export function leans(plan: Plan, times: number): void {
	const {random} = plan;
	for (let n = 0; n < times; n++) {
		const hold = random.uniform(1, 4);
		push(plan, random.pick(sides), random.uniform(0.05, 0.15), {out: 0.3, hold, back: 0.2});
		plan.wait(random.uniform(0.5, 1.5));
	}
}

/** Around along the stops, so many times without letting go. */
export function turnAround(plan: Plan, times: number): void {
	const {random} = plan;
	const out = random.uniform(0.12, 0.25);
	const turn = random.uniform(0.8, 1.6);
	const back = random.uniform(0.06, 0.12);
	const begin = random.uniform(0, 2 * Math.PI);
	const sense = random.chance(0.5) ? 1 : -1;
	const along = turn * times;
	plan.stick.push({
		start: plan.t,
		seconds: out + along + back,
		at: t => {
			const radius = Math.min(minimumJerk(t / out), 1 - minimumJerk((t - out - along) / back));
			const phase = begin + (sense * 2 * Math.PI * Math.min(along, Math.max(0, t - out))) / turn;
			return [radius * Math.cos(phase), radius * Math.sin(phase)];
		},
	});
	for (let n = 1; n <= times; n++) plan.turns.push(plan.t + out + n * turn);
	plan.wait(out + along + back);
	plan.releases.push(plan.t + 0.2);
	plan.wait(random.uniform(0.5, 1.2));
}

/** Clean presses of one button; at least four frames long each. */
export function press(plan: Plan, button: number, times: number, rate: number): void {
	const {random} = plan;
	for (let n = 0; n < times; n++) {
		const seconds = Math.max(4 / rate, random.uniform(0.08, 0.35));
		plan.presses.push({button, start: plan.t, seconds});
		plan.wait(seconds + Math.max(4 / rate, random.uniform(0.15, 0.5)));
	}
}
