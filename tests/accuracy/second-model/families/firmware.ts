import type {Random} from '../../../../source/simulator/random.ts';
import {allOf, type Drawn, type Family} from '../case.ts';
import {average, type Calibration, clipping, deadBand, divide, learnRange, mapToTop, roomy} from '../firmware.ts';
import {eachAlone, fists, grasps, postures, rest} from '../gestures.ts';
import type {Plan} from '../plan.ts';
import {healthyCase} from '../proofs.ts';
import {pushSides} from '../stick-moves.ts';
import type {Take} from '../take.ts';
import {everything, perform, pressAll, type Routine} from './healthy.ts';

/** Every finger goes all its way whenever it goes. */
const fullMovements: Routine = (plan, glove) => {
	rest(plan, 4);
	fists(plan, 5);
	eachAlone(plan);
	rest(plan, 8);
	pushSides(plan, 2);
	pressAll(plan, glove);
	fists(plan, 4);
};

const mapped =
	(top: number, calibration: Calibration, stick: boolean) =>
	(random: Random): Drawn => {
		// Beside a stick of 12 bit, 180 steps are 4 % of the scale, of which docs/faults.md says two things.
		// and of fingers that move by half of them only, what it says of pins at a rail.
		const take = perform(random, stick ? {stick, board: 'avr'} : {stick}, stick ? fullMovements : everything)
			.convert()
			.settle();
		mapToTop(take, top, calibration);
		// With the stick in raw counts beside them the fingers' top is not the scale of the stream, and nobody says it is.
		return healthyCase(take, {declared: stick ? {} : {fullScale: top}});
	};

/** Opens and closes fully from the beginning, as the screen of a learning glove asks for. */
export const learnThenWork =
	(restSeconds: number, then: Routine): Routine =>
	(plan, glove) => {
		plan.wait(restSeconds);
		fists(plan, 4, {depth: [0.97, 1], open: [0, 0.015]});
		eachAlone(plan, 2);
		then(plan, glove);
	};

/** A take whose firmware learns; the session begins at power-on. */
export function learning(random: Random, routine: (plan: Plan) => void, top?: number): Take {
	const resting = random.pick([0, 1, 3]);
	const take = perform(random, {curve: 0.1}, learnThenWork(resting, routine)).convert().settle();
	learnRange(take, top ?? take.glove.fullScale);
	return take;
}

export const firmwareFamilies: readonly Family[] = [
	{
		name: 'averaged',
		cases: 3,
		draw: random => {
			// At 20 frames a second a mean over eight would smear the stick's way back over its rest.
			const take = perform(random, {rates: [50, 100, 200]}, everything)
				.convert()
				.settle();
			average(take, random.pick([4, 8]));
			return healthyCase(take);
		},
	},
	{
		name: 'dead band',
		cases: 4,
		draw: random => {
			const take = perform(random, {board: 'avr'}, everything).convert().settle();
			deadBand(take, random.integer(1, 3));
			return healthyCase(take);
		},
	},
	{
		name: '0 to 255',
		cases: 4,
		draw: random => {
			const take = perform(random, {board: 'avr'}, everything).convert().settle();
			divide(take, 4);
			// A stick that rests at 127 needs to be told what scale it is on; without one nothing hangs on it.
			return healthyCase(take, {declared: take.glove.stick ? {fullScale: 255} : {}});
		},
	},
	{name: '0 to 255, clipped', cases: 3, draw: mapped(255, clipping, false)},
	{name: '0 to 100', cases: 3, draw: mapped(100, clipping, false)},
	{name: '0 to 100 beside a raw stick', cases: 3, draw: mapped(100, roomy, true)},
	{name: '0 to 180', cases: 4, draw: mapped(180, clipping, false)},
	{name: '0 to 180 beside a raw stick', cases: 3, draw: mapped(180, clipping, true)},
	{
		name: 'clipped to the whole scale',
		cases: 5,
		draw: random => {
			const take = perform(random, {}, everything).convert().settle();
			mapToTop(take, take.glove.fullScale, clipping);
			return healthyCase(take);
		},
	},
	{
		name: 'learns its range',
		cases: 10,
		draw: random => {
			const take = learning(random, plan => {
				grasps(plan, 3);
				rest(plan, 8);
				fists(plan, 4);
				postures(plan, 3, [2, 5]);
			});
			return healthyCase(take, {expect: {states: allOf(take.glove.fingers, 'proven')}});
		},
	},
	{
		name: 'learns 0 to 100',
		cases: 3,
		draw: random => {
			const take = learning(
				random,
				plan => {
					fists(plan, 6);
					rest(plan, 8);
					eachAlone(plan, 2);
				},
				100,
			);
			return healthyCase(take, {declared: {fullScale: 100}, expect: {states: allOf(take.glove.fingers, 'proven')}});
		},
	},
];
