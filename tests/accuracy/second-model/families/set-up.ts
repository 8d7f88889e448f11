import {allOf, type Declared, type Drawn, type Family, must} from '../case.ts';
import {average, learnRange} from '../firmware.ts';
import {eachAlone, fists, rest} from '../gestures.ts';
import {openPin, stillPin} from '../open-pin.ts';
import {faultyCase, healthyCase} from '../proofs.ts';
import {disturb} from '../supply.ts';
import type {Take} from '../take.ts';
import {learnThenWork} from './firmware.ts';
import {everything, perform, type Routine} from './healthy.ts';

const usual: Routine = plan => {
	rest(plan, 3);
	fists(plan, 6, {hold: [0.4, 1]});
	rest(plan, 3);
	eachAlone(plan, 2);
	fists(plan, 3);
};

const wrongScale = (take: Take, declared: Declared, statuses?: readonly string[]): Drawn =>
	faultyCase(take, [must('wrong-full-scale', 'any', {...(statuses && {statuses})})], {
		declared,
		// Until the scale is put right, no state can be asked for.
		expect: {states: {}, verdicts: statuses ? ['attention'] : ['fail', 'attention']},
	});

/** Ends of the fingers' travels as a sheet writes them, lower end first. */
function sheetOf(
	take: Take,
	ends: (finger: string, low: number, high: number) => readonly [min: number, max: number],
): string {
	const {fingers, reels, fullScale} = take.glove;
	const channels = [...take.names].map(name => {
		const i = fingers.indexOf(name);
		if (i < 0) return `[[channel]]\nname = "${name}"\n`;
		const {open, span, direction} = reels[i];
		const other = open + direction * span;
		const [min, max] = ends(name, Math.min(open, other) * fullScale, Math.max(open, other) * fullScale);
		return `[[channel]]\nname = "${name}"\nmin = ${Math.round(min)}\nmax = ${Math.round(max)}\ninverted = ${direction < 0}\n`;
	});
	return `[board]\nfull_scale = ${fullScale}\n\n${channels.join('\n')}`;
}

/** Fists that reach the ends the sheet was made from. */
const toTheEnds: Routine = plan => {
	rest(plan, 3);
	fists(plan, 10, {depth: [0.985, 1], open: [0, 0.01]});
	eachAlone(plan, 2);
	rest(plan, 3);
};

/** After a glove has learned its range. */
const afterLearning: Routine = plan => {
	rest(plan, 4);
	fists(plan, 4, {depth: [0.97, 1], open: [0, 0.015]});
	eachAlone(plan, 2);
	rest(plan, 5);
	fists(plan, 5, {depth: [0.97, 1], open: [0, 0.015]});
	rest(plan, 5);
};

const learningTake = (random: Take['random'], rates: readonly number[]): Take =>
	perform(
		random,
		{rates, span: [0.4, 0.6], inverted: false, open: [0.15, 0.3]},
		learnThenWork(random.pick([0, 1, 3]), afterLearning),
	);

export const setUpFamilies: readonly Family[] = [
	{
		name: '12 bit read as 10',
		code: 'wrong-full-scale',
		cases: 3,
		draw: random => wrongScale(perform(random, {board: 'esp'}, usual).convert().settle(), {fullScale: 1023}),
	},
	{
		name: '12 bit clamped to 1023',
		code: 'wrong-full-scale',
		cases: 3,
		draw: random => {
			const take = perform(random, {board: 'esp', inverted: false, open: [0.1, 0.2], stick: true}, usual);
			return wrongScale(take.convert().settle(1023), {fullScale: 1023});
		},
	},
	{
		name: '12 bit taken from 1023',
		code: 'wrong-full-scale',
		cases: 3,
		draw: random => {
			const take = perform(random, {board: 'esp', inverted: false, open: [0.1, 0.2], stick: true}, usual)
				.convert()
				.settle();
			for (const finger of take.glove.fingers)
				take.readings.set(
					finger,
					take.reading(finger).map(counts => 1023 - counts),
				);
			return wrongScale(take, {fullScale: 1023});
		},
	},
	{
		name: '10 bit read as 12',
		code: 'wrong-full-scale',
		cases: 3,
		draw: random =>
			wrongScale(perform(random, {board: 'avr', stick: true}, usual).convert().settle(), {fullScale: 4095}),
	},
	{
		name: 'travels of 3 to 4.5 %',
		code: 'wrong-full-scale',
		cases: 4,
		draw: random => {
			const take = perform(random, {board: 'avr', span: [0.031, 0.045], noiseCounts: 0.4, drag: 0.06}, usual);
			return wrongScale(take.convert().settle(), {fullScale: 1023}, ['function-check']);
		},
	},
	{
		name: 'sheet out of date',
		code: 'settings-stale',
		cases: 5,
		draw: (random, n) => {
			const take = perform(random, {stick: false, inverted: false}, toTheEnds).convert().settle();
			const finger = random.pick(take.glove.fingers);
			const sheet = sheetOf(take, (name, low, high) => {
				if (name !== finger) return [low, high];
				const span = high - low;
				if (n % 2 === 0) return [low - 0.25 * span, high + 0.25 * span];
				return [low + 0.12 * span, high - 0.12 * span];
			});
			return faultyCase(take, [must('settings-stale', finger, {channels: [finger, null]})], {
				declared: {sheet},
				layout: 'comma',
			});
		},
	},
	{
		name: 'sheet with the wrong direction',
		code: 'settings-stale',
		cases: 2,
		draw: random => {
			const take = perform(random, {stick: false, inverted: false}, toTheEnds);
			const finger = random.pick(take.glove.fingers);
			const sheet = sheetOf(take, (_, low, high) => [low, high]).replace(
				new RegExp(`(name = "${finger}"\n.*\n.*\n)inverted = false`),
				'$1inverted = true',
			);
			return faultyCase(take.convert().settle(), [must('settings-stale', finger, {channels: [finger, null]})], {
				declared: {sheet},
				layout: 'comma',
			});
		},
	},
	{
		name: 'sheet that fits',
		cases: 3,
		draw: random => {
			const take = perform(random, {stick: false}, toTheEnds).convert().settle();
			const sheet = sheetOf(take, (_, low, high) => [low - 0.01 * (high - low), high]);
			return healthyCase(take, {declared: {sheet}, layout: 'comma'});
		},
	},
	{
		name: 'learned, then reversed',
		code: 'reversed-sensor',
		cases: 5,
		draw: random => {
			const take = learningTake(random, [33, 50, 100, 200]);
			const finger = random.pick(take.glove.fingers);
			disturb(take, finger, level => 1 - level);
			take.convert().settle();
			learnRange(take, take.glove.fullScale);
			return faultyCase(take, [must('reversed-sensor', finger)]);
		},
	},
	{
		name: 'learned, then lost',
		code: 'floating-input',
		cases: 5,
		draw: random => {
			const take = learningTake(random, [50, 100, 200]);
			const finger = random.pick(take.glove.fingers);
			const at = take.plan.whole[15] + 0.5;
			take.convert();
			openPin(
				take,
				finger,
				{...stillPin, plateau: 0.45, hum: 0.12, jagged: 0.06, wander: 0.02},
				Math.ceil(at * take.rate),
			);
			take.settle();
			learnRange(take, take.glove.fullScale);
			return faultyCase(take, [must('floating-input', finger, {from: at, evidenceAt: at + 5, isOpenPin: true})], {
				expect: {states: {[finger]: ['lost']}, verdicts: ['fail']},
			});
		},
	},
	{
		name: 'learned, then loose',
		code: 'dropout',
		cases: 5,
		draw: random => {
			const take = learningTake(random, [50, 100, 200]);
			const finger = random.pick(take.glove.fingers);
			take.convert();
			const reading = take.reading(finger);
			// A poor contact that pulls the reading down by a part, not to the rail: what was learned stays learned.
			const from = take.plan.whole[13];
			const times: number[] = [];
			for (let t = from + 1; t < take.seconds - 1; t += random.uniform(1.5, 3)) {
				const k = Math.round(t * take.rate);
				const high = reading[k] / take.glove.fullScale;
				const low = take.glove.reels[take.glove.fingers.indexOf(finger)].open;
				const leap = Math.min(0.32, high - low - 0.02);
				const upwards = leap < 0.2;
				reading[k] += (upwards ? 0.3 : -leap) * take.glove.fullScale;
				times.push(t);
			}
			take.settle();
			learnRange(take, take.glove.fullScale);
			return faultyCase(take, [must('dropout', finger, {from: times[0], evidenceAt: times[2], until: times.at(-1)!})]);
		},
	},
	{
		name: 'averaged, then stuck',
		code: 'stuck-mid',
		cases: 3,
		draw: random => {
			// A mean hides noise between frames from the measure of noise, not from means over a quarter second: little noise only.
			const take = perform(random, {board: 'avr', span: [0.4, 0.6]}, everything);
			const finger = random.pick(take.glove.fingers);
			disturb(take, finger, () => 0.45);
			take.convert().settle();
			average(take, 4);
			// A whole hand that works is not in every session of everything; these have three fists at least.
			return faultyCase(take, [must('stuck-mid', finger, {evidenceAt: take.plan.wholeBy(4)})], {
				expect: {states: allOf([finger], 'faulty')},
			});
		},
	},
];
