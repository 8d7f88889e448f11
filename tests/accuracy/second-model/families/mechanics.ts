import {type Drawn, type Family, must} from '../case.ts';
import {eachAlone, fists, rest} from '../gestures.ts';
import {quickRates} from '../glove.ts';
import type {Plan} from '../plan.ts';
import {faultyCase} from '../proofs.ts';
import {disturb} from '../supply.ts';
import type {Take} from '../take.ts';
import {perform, type Routine} from './healthy.ts';

/** Dead play of one finger: the reel follows only when the cord has taken up `share` of the travel. */
export function mechanicalPlay(take: Take, finger: string, share: number): void {
	const {reels, fingers} = take.glove;
	const {open, span, direction} = reels[fingers.indexOf(finger)];
	const closing = take.closings.get(finger)!;
	const level = take.level(finger);
	let held = share / 2;
	for (const [k, a] of closing.entries()) {
		held = Math.min(a + share / 2, Math.max(a - share / 2, held));
		// What the hand trembles stays in the level; only the way lags.
		level[k] += direction * span * (held - a);
	}
	// The ends of the travel have moved inwards; nothing leaves the scale.
	if (open < 0) throw new RangeError('a reel cannot begin below the scale');
}

/** Any finger but the thumb, whose travel differs by nature. */
const oneOf = (take: Take): string => take.random.pick(take.glove.fingers.slice(1));

const spanOf = (take: Take, finger: string): {open: number; span: number; direction: number} =>
	take.glove.reels[take.glove.fingers.indexOf(finger)];

/** Deliberate fists, all fingers as one: what comparisons between fingers ask for. */
const asOne: Routine = plan => {
	rest(plan, 3);
	fists(plan, 9, {
		seconds: [0.8, 1.2],
		lag: 0.02,
		unlike: 0.015,
		depth: [0.97, 1],
		open: [0, 0.01],
		hold: [0.4, 1],
		pause: [0.4, 1],
	});
	rest(plan, 4);
	eachAlone(plan, 2);
};

const usual: Routine = plan => {
	rest(plan, 3);
	fists(plan, 8);
	eachAlone(plan, 2);
	rest(plan, 4);
	fists(plan, 4);
};

const found = (take: Take, code: string, channel: string, evidenceAt: number | null): Drawn =>
	faultyCase(take.convert().settle(), [must(code, channel, {evidenceAt})]);

/** How far the open hand has crept at each time: a little more at each of the first fists. */
function creep(plan: Plan, perFist: number): (t: number) => number {
	// Every second movement of the whole hand is an opening; cords slip while they are pulled.
	const closings = plan.whole.filter((_, n) => n % 2 === 0);
	return t => perFist * closings.filter(end => end <= t).length;
}

export const mechanicsFamilies: readonly Family[] = [
	{
		name: 'clipped-range',
		code: 'clipped-range',
		cases: 5,
		draw: (random, n) => {
			// The cord is longer than the track: the last third of the way is beyond it.
			const take = perform(random, {span: [0.4, 0.55]}, plan => {
				rest(plan, 2);
				fists(plan, 8, {hold: [0.4, 1.2], pause: [0.3, 0.8]});
				eachAlone(plan, 2);
			});
			const finger = oneOf(take);
			const {open, span, direction} = spanOf(take, finger);
			const rail = n % 2 === 0 ? 1 : 0;
			const beyond = random.uniform(0.3, 0.4) * span;
			// Fists go through the rail on one side; where the rail is on the other, the open hand lies beyond it.
			const outer = rail === 1 ? Math.max(open, open + direction * span) : Math.min(open, open + direction * span);
			const shift = rail === 1 ? 1 + beyond - outer : -beyond - outer;
			disturb(take, finger, level => level + shift);
			return found(take, 'clipped-range', finger, null);
		},
	},
	{
		name: 'narrow-span',
		code: 'narrow-span',
		cases: 5,
		draw: random => {
			const take = perform(random, {span: [0.42, 0.6]}, usual);
			const finger = oneOf(take);
			const {open} = spanOf(take, finger);
			// Never so narrow that a stuck reading would be the better word.
			const share = random.uniform(0.1, 0.18);
			disturb(take, finger, level => open + share * (level - open));
			return found(take, 'narrow-span', finger, take.plan.wholeBy(6));
		},
	},
	{
		name: 'baseline-drift',
		code: 'baseline-drift',
		cases: 5,
		draw: random => {
			const count = random.integer(10, 14);
			const take = perform(random, {span: [0.36, 0.5], open: [0.2, 0.3]}, plan => {
				rest(plan, 3);
				fists(plan, count, {open: [0, 0.01], pause: [0.6, 1.4], depth: [0.95, 1]});
				rest(plan, 3);
			});
			const finger = oneOf(take);
			const {span} = spanOf(take, finger);
			const total = random.uniform(0.18, 0.3) * span * (random.chance(0.5) ? 1 : -1);
			const crept = creep(take.plan, total / count);
			disturb(take, finger, (level, k) => level + crept(k / take.rate));
			return found(take, 'baseline-drift', finger, null);
		},
	},
	{
		name: 'backlash',
		code: 'backlash',
		cases: 5,
		draw: random => {
			const take = perform(random, {span: [0.4, 0.6], curve: 0.03, rates: quickRates, drag: 0}, asOne, {
				unrest: {slow: 0.0005, quick: 0.0003, tremor: 0.0001},
			});
			const finger = oneOf(take);
			mechanicalPlay(take, finger, random.uniform(0.16, 0.24));
			return found(take, 'backlash', finger, take.plan.wholeBy(4));
		},
	},
	{
		name: 'reversed-sensor',
		code: 'reversed-sensor',
		cases: 6,
		draw: (random, n) => {
			const three = n % 3 === 2;
			const take = perform(random, three ? {fingers: ['thumb', 'index', 'middle']} : {}, usual);
			const wrong = n % 3 === 1 ? random.shuffle(take.glove.fingers).slice(0, 2) : [random.pick(take.glove.fingers)];
			for (const finger of wrong) disturb(take, finger, level => 1 - level);
			return faultyCase(
				take.convert().settle(),
				wrong.map(finger => must('reversed-sensor', finger, {evidenceAt: take.plan.wholeBy(4)})),
			);
		},
	},
	{
		name: 'shared-ceiling',
		code: 'shared-ceiling',
		cases: 5,
		draw: random => {
			// Pots fed with 3.3 V on a board that measures against 5 V end at 0.66; other mistakes elsewhere.
			const ceiling = random.chance(0.6) ? 0.66 : random.uniform(0.6, 0.85);
			const take = perform(random, {inverted: false, span: [0.5, 0.7], open: [0.1, 0.2]}, plan => {
				rest(plan, 3);
				fists(plan, 9, {hold: [0.5, 1.2]});
				rest(plan, 3);
			});
			for (const finger of take.glove.fingers) {
				const {open, span} = spanOf(take, finger);
				// Every travel would go well beyond what the supply gives.
				const stretch = (ceiling - open + random.uniform(0.1, 0.2)) / span;
				const top = ceiling + random.uniform(-0.003, 0.003);
				disturb(take, finger, level => Math.min(top, open + (level - open) * stretch));
			}
			return faultyCase(take.convert().settle(), [must('shared-ceiling', 'any')]);
		},
	},
];
