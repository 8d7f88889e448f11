import type {Random} from '../../../../source/simulator/random.ts';
import {allOf, type Drawn, type Family, must} from '../case.ts';
import {alone, eachAlone, fists, rest} from '../gestures.ts';
import {quickRates} from '../glove.ts';
import {type OpenPin, openPin, stillPin} from '../open-pin.ts';
import {faultyCase} from '../proofs.ts';
import type {Take} from '../take.ts';
import {perform, type Routine} from './healthy.ts';

/** Wiring is checked with rests between the movements: what an open pin does then is half of the evidence. */
const usual: Routine = plan => {
	rest(plan, 6);
	fists(plan, 6);
	rest(plan, 8);
	eachAlone(plan, 2);
	rest(plan, 6);
	fists(plan, 3);
	rest(plan, 4);
};

/**
 * A pin that hums and jitters: the noise between its frames is beyond 2 % of full scale whatever the frame rate does to
 * the mains, and what it keeps of the pin before is too little to look like a finger that follows.
 */
function loud(random: Random): OpenPin {
	return {
		...stillPin,
		ghost: random.uniform(0, 0.12),
		plateau: random.uniform(0.3, 0.6),
		wander: random.uniform(0.01, 0.04),
		hum: random.uniform(0.08, 0.15),
		mainsHertz: random.pick([50, 60]),
		jagged: random.uniform(0.05, 0.07),
	};
}

/**
 * A pin that wanders, up and down about once a second: all there is to see below 35 frames a second. It never rests, and
 * its jitter is so large (12 times it are 15 % of full scale) that its ways of 10 % are none of a finger's.
 */
function wandering(random: Random): OpenPin {
	return {
		...stillPin,
		plateau: random.uniform(0.4, 0.6),
		jagged: random.uniform(0.0125, 0.0135),
		sway: [
			{peak: 0.034, hertz: random.uniform(0.7, 0.9)},
			{peak: 0.018, hertz: random.uniform(1.1, 1.4)},
		],
	};
}

/** A pin that keeps a share of the one read before, and is as quiet as that. */
function ghostly(random: Random): OpenPin {
	return {...stillPin, ghost: random.uniform(0.4, 0.9), plateau: random.uniform(0.28, 0.36)};
}

/** The same where ghosts copy ghosts: even the last of four still moves by a tenth of the first. */
function stillGhost(random: Random): OpenPin {
	return {...ghostly(random), ghost: random.uniform(0.68, 0.9)};
}

const openSince = {isOpenPin: true, statuses: ['failure']} as const;

/** One finger of five is open from the first frame on; the others are wired. */
const oneOpen =
	(
		pinOf: (random: Random) => OpenPin,
		rates: readonly number[],
		evidence: (take: Take, finger: string) => number | null,
	) =>
	(random: Random): Drawn => {
		const take = perform(random, {rates, span: [0.5, 0.6]}, usual);
		const i = random.integer(1, take.glove.fingers.length - 1);
		const finger = take.glove.fingers[i];
		take.convert();
		openPin(take, finger, pinOf(random));
		take.settle();
		// Below half of the fingers proven it is at function-check first; at the end four are.
		return faultyCase(take, [must('floating-input', finger, {isOpenPin: true, evidenceAt: evidence(take, finger)})], {
			expect: {states: {[finger]: ['open']}, verdicts: ['fail']},
		});
	};

const wired = (take: Take, but: string): string[] => take.glove.fingers.filter(finger => finger !== but);

/** Fingers are wired one after the other, each pulled three times once it is; those to come are open. */
function oneByOne(random: Random, order: 'scan' | 'any'): Drawn {
	const wiredAt = new Map<string, number>();
	const take = perform(
		random,
		{rates: quickRates, stick: false, buttons: 0, drag: 0},
		(plan, glove) => {
			plan.wait(6);
			for (const finger of order === 'scan' ? glove.fingers : plan.random.shuffle(glove.fingers)) {
				wiredAt.set(finger, plan.t);
				plan.wait(4);
				alone(plan, finger, 3);
				plan.wait(8);
			}
			// All once more: nothing is open now.
			eachAlone(plan, 2, 'scan');
			plan.wait(6);
		},
		{hand: false},
	);
	take.convert();
	for (const finger of take.glove.fingers) {
		openPin(take, finger, loud(random.fork(finger)), 0, Math.ceil(wiredAt.get(finger)! * take.rate));
	}
	take.settle();
	const [first] = [...wiredAt].sort((a, b) => a[1] - b[1]);
	const proven = take.plan.waysBy(first[0], 4)!;
	return faultyCase(
		take,
		[...wiredAt]
			.filter(([finger]) => finger !== first[0])
			.map(([finger, at]) => must('floating-input', finger, {evidenceAt: proven + 1, until: at, isOpenPin: true})),
		// Everything is mended and proven at the end; there is neither stick nor button.
		{expect: {states: allOf(take.glove.fingers, 'proven'), verdicts: ['pass']}},
	);
}

/** The first `count` fingers are wired and pulled, nothing else is. */
function partly(random: Random, count: number, pin: 'loud' | 'quiet'): Drawn {
	const take = perform(
		random,
		{rates: quickRates, stick: false, buttons: 0, drag: 0, span: [0.4, 0.6], open: [0.1, 0.3]},
		(plan, glove) => {
			plan.wait(5);
			for (let n = 0; n < 2; n++)
				for (const finger of glove.fingers.slice(0, count)) alone(plan, finger, n === 0 ? 4 : 3);
			plan.wait(5);
		},
		{hand: false},
	);
	take.convert();
	const open = take.glove.fingers.slice(count);
	for (const finger of open) openPin(take, finger, (pin === 'loud' ? loud : stillGhost)(random.fork(finger)));
	take.settle();
	const firstProof = take.plan.firstProof()! + 1;
	const statuses = count < 3 ? ['function-check'] : ['function-check', 'failure'];
	if (pin === 'loud') {
		return faultyCase(
			take,
			open.map(finger => must('floating-input', finger, {evidenceAt: firstProof, statuses, isOpenPin: true})),
			{expect: {states: allOf(open, 'open'), verdicts: count < 3 ? ['attention'] : ['fail']}},
		);
	}
	// Ghosts of ghosts: named from six ways of the pin before on, as soon as one finger has moved and another has not.
	return faultyCase(take, [], {
		expect: {
			musts: open.map(finger => must('floating-input', finger, {isOpenPin: true, statuses})),
			states: allOf(open, 'open'),
			verdicts: count < 3 ? ['attention'] : ['fail'],
		},
	});
}

export const openPinFamilies: readonly Family[] = [
	{
		name: 'open, loud',
		code: 'floating-input',
		cases: 5,
		draw: oneOpen(loud, quickRates, take => take.plan.firstProof()! + 1),
	},
	{name: 'open, wandering', code: 'floating-input', cases: 5, draw: oneOpen(wandering, [20, 33], () => null)},
	{
		name: 'open, a ghost',
		code: 'floating-input',
		cases: 6,
		draw: oneOpen(ghostly, [33, 50, 100, 200], (take, finger) => {
			const {fingers} = take.glove;
			const before = fingers[fingers.indexOf(finger) - 1];
			return Math.max(take.plan.firstProof(wired(take, finger))!, take.plan.waysBy(before, 6)!);
		}),
	},
	{
		name: 'open, sinking',
		code: 'floating-input',
		cases: 4,
		draw: random => {
			const take = perform(random, {stick: true, buttons: 0, span: [0.48, 0.6]}, usual);
			const finger = random.pick(take.glove.fingers);
			take.convert();
			// Charged anew now and then, by a touch or the radio, and running down in between; not twice before others are proven.
			const every = random.uniform(9, 12);
			const [low, way] = [random.uniform(0.28, 0.34), random.uniform(0.07, 0.12)];
			take.reading(finger).forEach((_, k, reading) => {
				const since = (k / take.rate) % every;
				reading[k] =
					(low + way * Math.exp(-since / 2.5)) * take.glove.fullScale + random.normal(0, take.glove.noiseCounts);
			});
			return faultyCase(take.settle(), [must('floating-input', finger, {isOpenPin: true})], {
				expect: {states: {[finger]: ['open']}, verdicts: ['fail']},
			});
		},
	},
	{
		name: 'open, settled',
		code: 'stuck-mid',
		cases: 5,
		draw: random => {
			// Common 8-bit boards: 390 to 400 of 1023 sink to 300 to 330 within seconds (H-real).
			const take = perform(random, {board: 'avr', span: [0.4, 0.6]}, usual);
			const finger = random.pick(take.glove.fingers);
			take.convert();
			openPin(take, finger, {
				...stillPin,
				plateau: random.uniform(0.293, 0.323),
				above: 0.08,
				settleSeconds: random.uniform(0.6, 1.5),
			});
			// By either name: it has settled, and it is open.
			return faultyCase(
				take.settle(),
				[must(['stuck-mid', 'floating-input'], finger, {evidenceAt: take.plan.wholeBy(4), isOpenPin: true})],
				{expect: {states: {[finger]: ['faulty', 'open']}, verdicts: ['fail', 'attention']}},
			);
		},
	},
	{
		name: 'lost',
		code: 'floating-input',
		cases: 6,
		draw: random => {
			const take = perform(random, {rates: quickRates}, plan => {
				rest(plan, 3);
				fists(plan, 5);
				eachAlone(plan, 2);
				rest(plan, 4);
				fists(plan, 6);
				rest(plan, 5);
			});
			const finger = random.pick(take.glove.fingers);
			take.convert();
			const at = take.plan.whole[9] + random.uniform(2, 8);
			// On a finger that has moved alone noise counts from 5 s on (check-values D5.2).
			openPin(take, finger, loud(random), Math.ceil(at * take.rate));
			return faultyCase(take.settle(), [must('floating-input', finger, {from: at, evidenceAt: at + 5, ...openSince})], {
				expect: {states: {[finger]: ['lost']}, verdicts: ['fail']},
			});
		},
	},
	{
		name: 'wired one by one',
		code: 'floating-input',
		cases: 6,
		draw: (random, n) => oneByOne(random, n % 2 === 0 ? 'scan' : 'any'),
	},
	{
		name: 'one or two wired',
		code: 'floating-input',
		cases: 5,
		draw: (random, n) => partly(random, 1 + (n % 2), 'loud'),
	},
	{
		name: 'three or four wired',
		code: 'floating-input',
		cases: 4,
		draw: (random, n) => partly(random, 3 + (n % 2), 'loud'),
	},
	{
		name: 'wired fingers and ghosts',
		code: 'floating-input',
		cases: 5,
		draw: (random, n) => partly(random, 1 + (n % 3), 'quiet'),
	},
	{
		name: 'stick pins open',
		code: 'floating-input',
		cases: 3,
		draw: random => {
			const take = perform(random, {rates: quickRates, stick: true}, usual);
			take.convert();
			for (const axis of ['stick-x', 'stick-y']) openPin(take, axis, loud(random.fork(axis)));
			return faultyCase(
				take.settle(),
				['stick-x', 'stick-y'].map(axis =>
					must('floating-input', axis, {evidenceAt: take.plan.firstProof()! + 1, isOpenPin: true}),
				),
				{expect: {states: allOf(['stick-x', 'stick-y'], 'open'), verdicts: ['fail']}},
			);
		},
	},
];
