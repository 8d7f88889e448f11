import {Random} from '../../source/simulator/random.ts';
import {alone, fists} from '../accuracy/second-model/gestures.ts';
import {drawGlove, fiveFingers} from '../accuracy/second-model/glove.ts';
import {asLog, linesOf} from '../accuracy/second-model/lines.ts';
import {type OpenPin, openPin, stillPin} from '../accuracy/second-model/open-pin.ts';
import {Plan} from '../accuracy/second-model/plan.ts';
import {visibleMains} from '../accuracy/second-model/supply.ts';
import {Take} from '../accuracy/second-model/take.ts';

/** What lies on the bench, and what is done to it. */
export const benchKinds = {
	/** All wired; the reels are pulled one after the other, three times each. */
	seq: {open: []},
	/** Nothing wired. */
	none: {open: [...fiveFingers, 'stick-x', 'stick-y']},
	/** Only the thumb wired, and pulled. */
	thumb: {open: [...fiveFingers.slice(1), 'stick-x', 'stick-y']},
	/** All wired but the index; four pulls at a bar that all cords are tied to. */
	index: {open: ['index']},
	/** As `thumb`, but the open pins neither hum nor wander: ghosts that rest as quietly as the finger they copy. */
	quiet: {open: fiveFingers.slice(1)},
} as const;

export type BenchKind = keyof typeof benchKinds;

const pulls: Readonly<Record<BenchKind, (plan: Plan) => void>> = {
	seq(plan) {
		for (const finger of plan.fingers) alone(plan, finger, 3);
	},
	none(plan) {
		plan.wait(12);
	},
	thumb(plan) {
		alone(plan, 'thumb', 5);
	},
	index(plan) {
		fists(plan, 4, {seconds: [0.5, 0.75], lag: 0.06, unlike: 0.02, depth: [0.97, 1], open: [0, 0.01], hold: [0, 0.1]});
	},
	quiet(plan) {
		alone(plan, 'thumb', 5);
	},
};

/** Half of the pin read before stays; the rest is the pin's own: mains of 4 to 6 % of full scale, a slow wander, some jitter. */
function pinOf(random: Random, kind: BenchKind, rate: number): OpenPin {
	const ghost = random.uniform(0.45, 0.6);
	if (kind === 'quiet') return {...stillPin, ghost, plateau: random.uniform(0.3, 0.4)};
	const own = 1 - ghost;
	return {
		...stillPin,
		ghost,
		plateau: random.uniform(0.3, 0.5),
		hum: random.uniform(0.045, 0.065) / own,
		mainsHertz: visibleMains(random, rate),
		wander: random.uniform(0.01, 0.02) / own,
		wanderSeconds: random.uniform(4, 8),
		jagged: random.uniform(0.006, 0.01) / own,
	};
}

/**
 * A log of reels on a bench, stamped in seconds: five fingers, a stick, two buttons that nobody presses, 10 bit. There is
 * no hand in the glove: pulling one cord moves nothing else.
 */
export function benchLog(kind: BenchKind, rate: number, seed: number): string {
	const random = new Random(seed).fork(`${kind} ${rate}`);
	const glove = drawGlove(random, {
		board: 'avr',
		rates: [rate],
		stick: true,
		buttons: 2,
		span: [0.48, 0.7],
		inverted: false,
		drag: 0,
	});
	const plan = new Plan(random, glove.fingers);
	plan.wait(random.uniform(3, 5));
	pulls[kind](plan);
	plan.wait(random.uniform(3, 4));
	const take = new Take(glove, plan, random, {hand: false}).convert();
	for (const name of benchKinds[kind].open) openPin(take, name, pinOf(random, kind, rate));
	return asLog(linesOf(take.settle(), {layout: 'comma'}), 'seconds');
}
