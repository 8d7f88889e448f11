import {type Family, must} from '../case.ts';
import {alone, eachAlone, fists, rest} from '../gestures.ts';
import {quickRates} from '../glove.ts';
import {faultyCase} from '../proofs.ts';
import {pushSides} from '../stick-moves.ts';
import {disturb, hum, shakeSupply, visibleMains} from '../supply.ts';
import {perform, type Routine} from './healthy.ts';

const usual: Routine = plan => {
	rest(plan, 4);
	fists(plan, 6);
	rest(plan, 8);
	eachAlone(plan, 2);
	fists(plan, 3);
	rest(plan, 6);
};

export const readingFamilies: readonly Family[] = [
	{
		name: 'excess-noise',
		code: 'excess-noise',
		cases: 6,
		draw: (random, n) => {
			const take = perform(random, {span: [0.45, 0.6]}, usual);
			const finger = random.pick(take.glove.fingers.slice(1));
			const from = n % 3 === 2 ? take.plan.whole[7] + 1 : 0;
			const rms = random.uniform(0.021, 0.028);
			disturb(take, finger, level => level + random.normal(0, rms), from);
			// It follows its finger, and it has rested since.
			const follows = take.plan.waysBy(finger, 4, from)!;
			return faultyCase(take.convert().settle(), [must('excess-noise', finger, {from, evidenceAt: follows + 2})]);
		},
	},
	{
		name: 'noise of a stick',
		code: 'excess-noise',
		cases: 3,
		draw: random => {
			const take = perform(random, {stick: true}, (plan, glove) => {
				usual(plan, glove);
				pushSides(plan, 2);
				rest(plan, 6);
			});
			const axis = random.pick(['stick-x', 'stick-y']);
			// From 2 % on it would be an open pin.
			const rms = random.uniform(0.0165, 0.0185);
			disturb(take, axis, level => level + random.normal(0, rms));
			return faultyCase(take.convert().settle(), [must('excess-noise', axis)]);
		},
	},
	{
		name: 'mains-hum',
		code: 'mains-hum',
		cases: 6,
		draw: (random, n) => {
			const take = perform(random, {rates: quickRates, span: [0.45, 0.6]}, usual);
			const finger = random.pick(take.glove.fingers.slice(1));
			const from = n % 3 === 2 ? take.plan.whole[7] + 1 : 0;
			hum(take, finger, random.uniform(0.025, 0.04), visibleMains(random, take.rate), from);
			const follows = take.plan.waysBy(finger, 4, from)!;
			return faultyCase(take.convert().settle(), [must('mains-hum', finger, {from, evidenceAt: follows + 2})]);
		},
	},
	{
		name: 'coarse-steps',
		code: 'coarse-steps',
		cases: 5,
		draw: (random, n) => {
			const take = perform(random, {span: [0.4, 0.6]}, usual)
				.convert()
				.settle();
			const {fingers, fullScale} = take.glove;
			const step = fullScale > 1023 ? random.pick([32, 64, 128]) : random.pick([8, 16, 32]);
			const offset = random.integer(0, 1);
			const coarse = n % 2 === 0 ? [random.pick(fingers)] : fingers;
			for (const finger of coarse) {
				take.readings.set(
					finger,
					take.reading(finger).map(counts => Math.floor(counts / step) * step + offset),
				);
			}
			return faultyCase(
				take,
				coarse.map(finger => must('coarse-steps', finger)),
			);
		},
	},
	{
		name: 'duplicate-channel',
		code: 'duplicate-channel',
		cases: 5,
		draw: random => {
			const take = perform(random, {span: [0.4, 0.6]}, usual);
			const [one, other] = random.shuffle(take.glove.fingers);
			take.convert().settle();
			// One input read twice. Two inputs soldered together have each its own noise: beyond one count the 99.5 % of docs/faults.md are out of reach.
			take.readings.set(other, Float64Array.from(take.reading(one)));
			return faultyCase(take, [
				must('duplicate-channel', one, {channels: [one, other], evidenceAt: take.plan.waysBy(one, 4)}),
			]);
		},
	},
	{
		name: 'crosstalk on a stick',
		code: 'crosstalk',
		cases: 4,
		draw: random => {
			const take = perform(random, {stick: true, span: [0.45, 0.6]}, usual);
			const little = take.level('little');
			const [open, share] = [little[0], random.uniform(0.11, 0.18)];
			disturb(take, 'stick-x', (level, k) => level + share * (little[k] - open));
			return faultyCase(take.convert().settle(), [must('crosstalk', 'stick-x')]);
		},
	},
	{
		name: 'crosstalk between fingers',
		code: 'crosstalk',
		cases: 4,
		draw: random => {
			const take = perform(
				random,
				{drag: 0, rates: quickRates, thumb: [0.8, 1]},
				plan => {
					plan.wait(3);
					for (let n = 0; n < 2; n++) for (const finger of plan.fingers) alone(plan, finger, 3);
					plan.wait(4);
				},
				{hand: false},
			);
			// The converter reads each pin too soon after the one before: every finger keeps a share of its neighbour's way.
			const share = random.uniform(0.25, 0.32);
			const {fingers} = take.glove;
			for (const [i, finger] of fingers.entries()) {
				if (i === 0) continue;
				const before = take.level(fingers[i - 1]);
				const open = before[0];
				disturb(take, finger, (level, k) => level + share * (before[k] - open));
			}
			return faultyCase(take.convert().settle(), [must('crosstalk', 'any')], {expect: {states: {}}});
		},
	},
	{
		name: 'supply-ripple',
		code: 'supply-ripple',
		cases: 6,
		draw: (random, n) => {
			// Deep levels leap most: none may come to a rail, and the shallowest must still leap by well over half a per cent.
			const take = perform(
				random,
				{rates: quickRates, span: [0.3, 0.42], open: [0.25, 0.35], inverted: false, thumb: [0.8, 1]},
				usual,
			);
			const {plan} = take;
			const always: [number, number][] = [[0, take.seconds]];
			// A motor that starts, or a joint that is poor while the hand moves.
			const bursts = plan.whole
				.filter((_, k) => k > 3 && k % 4 === 0)
				.map((end): [number, number] => [end - 1.5, end + 2]);
			const stretches = n % 3 === 0 ? always : bursts;
			shakeSupply(take, random.uniform(0.035, 0.05), stretches);
			const from = stretches[0][0];
			return faultyCase(take.convert().settle(), [
				must('supply-ripple', 'any', {from, evidenceAt: from + 2, until: stretches.at(-1)![1]}),
			]);
		},
	},
];
