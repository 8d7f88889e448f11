import {type Drawn, type Family, must} from '../case.ts';
import {fists, rest} from '../gestures.ts';
import type {Glove} from '../glove.ts';
import type {Plan} from '../plan.ts';
import {faultyCase} from '../proofs.ts';
import {press, push, pushSides, sides, turnAround} from '../stick-moves.ts';
import {disturb} from '../supply.ts';
import type {Take} from '../take.ts';
import {perform, pressAll, type Routine} from './healthy.ts';

const sticking: Routine = plan => {
	rest(plan, 3);
	fists(plan, 3);
	turnAround(plan, 3);
	pushSides(plan, 4);
	rest(plan, 3);
	turnAround(plan, 2);
};

/** A stick of which somebody says what scale it has: off the middle of what else would be the question. */
const declaredScale = (take: Take) => ({declared: {fullScale: take.glove.fullScale}});

const pressing = (plan: Plan, glove: Glove): void => {
	rest(plan, 2);
	fists(plan, 2);
	for (let b = 1; b <= glove.buttons; b++) {
		// Unhurried: bounces in quick succession would look like an input that floats.
		for (let n = 0; n < 12; n++) {
			press(plan, b, 1, glove.rate);
			plan.wait(plan.random.uniform(0.8, 1.2));
		}
	}
	rest(plan, 3);
};

/** How often a button changed side, taken at random half of the time: an input without its pull-up. */
function babble(take: Take, button: string, from: number): void {
	const states = take.buttons.get(button)!;
	for (let k = Math.ceil(from * take.rate); k < take.count; k++) states[k] = take.random.integer(0, 1);
}

export const controlFamilies: readonly Family[] = [
	{
		name: 'stick-off-centre',
		code: 'stick-off-centre',
		cases: 5,
		draw: (random, n) => {
			const used = n % 3 !== 2;
			const take = perform(
				random,
				{stick: true},
				used
					? sticking
					: plan => {
							rest(plan, 5);
							fists(plan, 3);
						},
			);
			const axis = random.pick(['stick-x', 'stick-y']);
			const off = random.uniform(0.16, 0.24) * (n % 2 === 0 ? 1 : -1);
			// The stops stay where they are; the spring holds the stick elsewhere.
			disturb(take, axis, level => level + off * Math.max(0, 1 - Math.abs(level - 0.5) / 0.44));
			return faultyCase(
				take.convert().settle(),
				[must('stick-off-centre', axis, {...(!used && {statuses: ['function-check']})})],
				{
					...declaredScale(take),
					expect: {
						verdicts: used ? ['fail', 'attention'] : ['attention'],
						// From where it rests it is not far to one of the stops.
						mays: [{code: 'stick-short-throw', channels: [axis]}],
					},
				},
			);
		},
	},
	{
		name: 'stick-no-return',
		code: 'stick-no-return',
		cases: 5,
		draw: random => {
			const take = perform(random, {stick: true}, plan => {
				rest(plan, 3);
				fists(plan, 2);
				for (let n = 0; n < 10; n++) {
					push(plan, sides[n % 4], random.uniform(0.985, 1), {out: 0.2, hold: 0.3, back: 0.1});
					plan.wait(random.uniform(0.8, 1.6));
				}
				rest(plan, 3);
			});
			const axis = random.pick(['stick-x', 'stick-y']);
			const level = take.level(axis);
			// After each push it stays on one side of the middle or the other, always within the middle quarter.
			const ends = take.plan.stick.map(({start, seconds}) => (start + seconds) * take.rate);
			let rests = 0;
			let off = 0;
			for (let k = 0; k < take.count; k++) {
				if (rests < ends.length && k >= ends[rests]) {
					off = (rests % 2 === 0 ? 1 : -1) * random.uniform(0.06, 0.075);
					rests++;
				}
				const middle = Math.max(0, 1 - Math.abs(level[k] - 0.5) / 0.3);
				level[k] += off * middle;
			}
			return faultyCase(
				take.convert().settle(),
				[must('stick-no-return', axis, {evidenceAt: take.plan.releases[2]})],
				declaredScale(take),
			);
		},
	},
	{
		name: 'stick-short-throw',
		code: 'stick-short-throw',
		cases: 5,
		draw: (random, n) => {
			const take = perform(
				random,
				{stick: true},
				n % 2 === 0
					? sticking
					: plan => {
							rest(plan, 3);
							fists(plan, 2);
							pushSides(plan, 5);
						},
			);
			const axis = random.pick(['stick-x', 'stick-y']);
			const side = random.pick([-1, 1]);
			const centre = take.glove.stick![axis === 'stick-x' ? 'x' : 'y'];
			const stop = random.uniform(0.34, 0.48) / 2;
			disturb(take, axis, level => centre + side * Math.min(stop, side * (level - centre)));
			const {turns, pushes} = take.plan;
			const there = pushes.filter(p => `stick-${p.axis}` === axis && p.side === side);
			const evidenceAt = Math.min(turns[1] ?? Number.POSITIVE_INFINITY, there[2].end);
			return faultyCase(
				take.convert().settle(),
				[must('stick-short-throw', axis, {evidenceAt, channels: [axis, null]})],
				declaredScale(take),
			);
		},
	},
	{
		name: 'button-bounce',
		code: 'button-bounce',
		cases: 4,
		draw: random => {
			const take = perform(random, {buttons: 2, rates: [200, 333]}, pressing);
			const button = random.pick(['button-1', 'button-2']);
			const states = take.buttons.get(button)!;
			const clean = Float64Array.from(states);
			// One frame back to the old side, one or two frames after the edge: 3 to 10 ms, longer than good switches do (B1).
			for (let k = 1; k < take.count - 4; k++) {
				if (clean[k] === clean[k - 1] || !random.chance(0.8)) continue;
				states[k + random.integer(1, 2)] = clean[k - 1];
			}
			return faultyCase(take.convert().settle(), [must('button-bounce', button)]);
		},
	},
	{
		name: 'button-floating',
		code: 'button-floating',
		cases: 4,
		draw: (random, n) => {
			const take = perform(random, {buttons: 2, rates: [50, 100, 200]}, (plan, glove) => {
				rest(plan, 4);
				fists(plan, 5);
				pressAll(plan, glove);
				rest(plan, 10);
			});
			const button = random.pick(['button-1', 'button-2']);
			const from = n % 2 === 0 ? 0 : 12;
			babble(take, button, from);
			return faultyCase(take.convert().settle(), [must('button-floating', button, {from, evidenceAt: from + 5})], {
				// Edges at random are extra edges too.
				expect: {mays: [{code: 'button-bounce', channels: [button]}]},
			});
		},
	},
	{
		name: 'button-held',
		code: 'button-held',
		cases: 4,
		draw: random => {
			const take = perform(random, {buttons: 3}, (plan, glove) => {
				plan.presses.push({button: 1, start: 0, seconds: 1000});
				rest(plan, 6);
				fists(plan, 6);
				for (const b of [2, 3]) press(plan, b, 3, glove.rate);
				rest(plan, 10);
			});
			return held(take);
		},
	},
];

/** Joined legs of a four-legged switch read as pressed for ever (B6). Any of the buttons may be the one. */
function held(take: Take): Drawn {
	const names = [...take.buttons.keys()];
	const button = take.random.pick(names);
	const first = take.buttons.get(names[0])!;
	take.buttons.set(names[0], take.buttons.get(button)!);
	take.buttons.set(button, first);
	// Which column was pressed twice and which never is not the one the plan says.
	return faultyCase(take.convert().settle(), [must('button-held', button, {evidenceAt: 15})], {
		layout: 'labels',
		expect: {
			states: Object.fromEntries(names.map(name => [name, name === button ? ['faulty', 'waiting'] : ['proven']])),
		},
	});
}
