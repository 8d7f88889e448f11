import type {Random} from '../../../../source/simulator/random.ts';
import {checksOfMovement} from '../../expectation.ts';
import type {CaseOptions, Drawn, Family} from '../case.ts';
import {chords, eachAlone, fists, grasps, halfPushes, opened, play, postures, rest, taps} from '../gestures.ts';
import {drawGlove, type Glove, type GloveWishes, quickRates} from '../glove.ts';
import {Plan} from '../plan.ts';
import {healthyCase} from '../proofs.ts';
import {flicks, halfStickPushes, leans, press, pushSides, turnAround} from '../stick-moves.ts';
import {Take, type TakeOptions} from '../take.ts';

export type Routine = (plan: Plan, glove: Glove) => void;

/** Draws a glove, plans a session and performs it; the converter has read, nothing is rounded yet. */
export function perform(random: Random, wishes: GloveWishes, routine: Routine, options: TakeOptions = {}): Take {
	const glove = drawGlove(random.fork('glove'), wishes);
	const plan = new Plan(random.fork('plan'), glove.fingers);
	routine(plan, glove);
	return new Take(glove, plan, random.fork('take'), options);
}

const healthy =
	(wishes: GloveWishes, routine: Routine, options: TakeOptions = {}, more: CaseOptions = {}) =>
	(random: Random): Drawn =>
		healthyCase(perform(random, wishes, routine, options).convert().settle(), more);

/** Every button twice or three times. */
export function pressAll(plan: Plan, glove: Glove): void {
	for (let b = 1; b <= glove.buttons; b++) press(plan, b, plan.random.integer(2, 3), glove.rate);
	plan.wait(0.5);
}

/** A bit of everything, in any order: each finger alone two to four times, and none more than another. */
export const everything: Routine = (plan, glove) => {
	const {random} = plan;
	rest(plan, random.uniform(2, 6));
	const parts = [
		() => fists(plan, random.integer(3, 6)),
		() => eachAlone(plan),
		() => grasps(plan, random.integer(2, 4)),
		() => chords(plan, random.integer(2, 5)),
		() => postures(plan, random.integer(2, 4), [2, 6]),
		() => halfPushes(plan),
		() => rest(plan, random.uniform(8, 20)),
		() => {
			if (glove.stick === null) return;
			pushSides(plan, 2);
			if (random.chance(0.6)) turnAround(plan, random.integer(2, 3));
			if (random.chance(0.5)) flicks(plan, 1);
		},
		() => pressAll(plan, glove),
	];
	for (const part of random.shuffle(parts)) {
		part();
		rest(plan, random.uniform(0.5, 3));
	}
};

const work: Routine = plan => {
	rest(plan, 3);
	fists(plan, plan.random.integer(3, 5));
	eachAlone(plan);
	rest(plan, 4);
};

const onStick =
	(stick: Routine): Routine =>
	(plan, glove) => {
		rest(plan, 3);
		fists(plan, 3);
		stick(plan, glove);
		rest(plan, 3);
		eachAlone(plan, 2);
		stick(plan, glove);
		rest(plan, 2);
	};

export const healthyFamilies: readonly Family[] = [
	{name: 'anything', cases: 14, draw: healthy({}, everything)},
	{
		name: 'minutes of rest',
		cases: 6,
		draw: healthy({}, plan => {
			rest(plan, plan.random.uniform(60, 150));
			fists(plan, plan.random.integer(2, 4));
			rest(plan, plan.random.uniform(60, 150));
			eachAlone(plan, 2);
			rest(plan, 20);
		}),
	},
	{
		name: 'nothing but rest',
		cases: 4,
		draw: healthy(
			{},
			plan => rest(plan, plan.random.uniform(10, 60)),
			{},
			{
				expect: {unseen: checksOfMovement},
			},
		),
	},
	{
		name: 'one finger at a time',
		cases: 6,
		draw: healthy({}, plan => {
			rest(plan, 3);
			eachAlone(plan);
			rest(plan, 6);
		}),
	},
	{
		name: 'reels on a bench',
		cases: 5,
		draw: healthy(
			{drag: 0},
			plan => {
				plan.wait(3);
				eachAlone(plan, 3, plan.random.chance(0.5) ? 'scan' : 'any');
				plan.wait(5);
			},
			{hand: false},
		),
	},
	{
		name: 'postures',
		cases: 5,
		draw: healthy({}, plan => {
			fists(plan, 2);
			postures(plan, plan.random.integer(6, 10), [8, 30]);
			rest(plan, 5);
		}),
	},
	{
		name: 'relaxed openings',
		cases: 6,
		draw: healthy({}, plan => {
			rest(plan, 2);
			fists(plan, plan.random.integer(2, 5));
			grasps(plan, plan.random.integer(10, 20));
			fists(plan, plan.random.integer(2, 5));
		}),
	},
	{
		name: 'free use',
		cases: 6,
		draw: healthy({}, plan => {
			play(plan, plan.random.uniform(60, 180));
			rest(plan, 5);
		}),
	},
	{
		name: 'chords and half pushes',
		cases: 4,
		draw: healthy({}, plan => {
			rest(plan, 2);
			halfPushes(plan);
			chords(plan, 12);
			halfPushes(plan);
			chords(plan, 6);
		}),
	},
	// The board fits the noise: a travel of 3 % under 14 counts of 12 bit can't be proven by the 12 × rest noise of docs/session.md.
	{
		name: 'travels of 6 to 20 %',
		cases: 8,
		draw: random => {
			const board = random.pick(['avr', 'esp'] as const);
			const span = board === 'avr' ? ([0.065, 0.2] as const) : ([0.12, 0.2] as const);
			const take = perform(
				random,
				{board, span, noiseCounts: board === 'avr' ? 0.45 : random.uniform(4, 6)},
				everything,
			);
			return healthyCase(take.convert().settle(), {declared: {fullScale: take.glove.fullScale}});
		},
	},
	{name: 'travels of 50 to 80 %', cases: 4, draw: healthy({span: [0.5, 0.8]}, everything)},
	{
		name: 'noise of 14 to 22 counts',
		cases: 5,
		draw: random =>
			healthyCase(
				perform(random, {board: 'esp', stick: true, noiseCounts: random.uniform(14, 22)}, everything)
					.convert()
					.settle(),
			),
	},
	{name: 'stick untouched', cases: 4, draw: healthy({stick: true, board: 'esp'}, work)},
	{
		name: 'stick flicked',
		cases: 4,
		draw: healthy(
			{stick: true, rates: quickRates},
			onStick(plan => flicks(plan, 3)),
		),
	},
	{
		name: 'stick pushed, never turned',
		cases: 4,
		draw: healthy(
			{stick: true},
			onStick(plan => pushSides(plan, 3)),
		),
	},
	{
		name: 'stick pushed half',
		cases: 4,
		draw: healthy(
			{stick: true},
			onStick(plan => halfStickPushes(plan, 4)),
		),
	},
	{
		name: 'stick leaned on',
		cases: 3,
		draw: healthy(
			{stick: true},
			onStick(plan => leans(plan, 5)),
		),
	},
	{name: 'three fingers', cases: 5, draw: healthy({fingers: ['thumb', 'index', 'middle']}, everything)},
	{
		name: 'fast fists',
		cases: 4,
		draw: healthy({rates: quickRates}, plan => {
			rest(plan, 2);
			// 3.2 to 3.35 closings and openings a second are the fastest (H13).
			fists(plan, 25, {seconds: [0.13, 0.2], hold: [0, 0.04], pause: [0, 0.06], depth: [0.6, 1], open: [0, 0.15]});
			opened(plan);
			eachAlone(plan, 2);
		}),
	},
	{
		name: 'taps',
		cases: 4,
		draw: healthy({rates: quickRates}, plan => {
			fists(plan, 2);
			for (const finger of plan.random.shuffle(plan.fingers)) taps(plan, finger, 12, plan.random.uniform(4, 6.8));
			rest(plan, 5);
		}),
	},
	{
		name: 'tremor',
		cases: 4,
		draw: healthy(
			{rates: quickRates},
			plan => {
				rest(plan, 8);
				postures(plan, 4, [5, 10]);
				fists(plan, 3);
			},
			{unrest: {tremor: 0.003, quick: 0.0015}},
		),
	},
];
