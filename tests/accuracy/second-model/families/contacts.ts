import {type Drawn, type Family, must} from '../case.ts';
import {eachAlone, fists, rest} from '../gestures.ts';
import type {GloveWishes} from '../glove.ts';
import {openPin, stillPin} from '../open-pin.ts';
import {faultyCase} from '../proofs.ts';
import {pushSides} from '../stick-moves.ts';
import {disturb} from '../supply.ts';
import type {Take} from '../take.ts';
import {perform, type Routine} from './healthy.ts';

const usual: Routine = plan => {
	rest(plan, 4);
	fists(plan, 6);
	rest(plan, 4);
	eachAlone(plan, 2);
	fists(plan, 4);
	rest(plan, 4);
};

/** Slow and wide, so that a leap is far quicker than anything the hand does. */
const unhurried: Routine = plan => {
	rest(plan, 4);
	fists(plan, 6, {seconds: [0.9, 1.4]});
	rest(plan, 8);
	eachAlone(plan, 2);
	fists(plan, 4, {seconds: [0.9, 1.4]});
	rest(plan, 10);
};

/** A finger that says one and the same from `from` on, but for the converter's noise. */
function stuck(take: Take, finger: string, level: number, from: number): void {
	disturb(take, finger, () => level, from);
}

const stuckCase =
	(code: string, levelOf: (take: Take) => number) =>
	(random: Take['random'], n: number): Drawn => {
		// At 20 frames a second the means of five frames of a noisy board wander as far as the limit.
		const take = perform(random, {span: [0.38, 0.6], rates: [33, 50, 100, 200]}, usual);
		const {fingers} = take.glove;
		const channels = n % 4 === 3 ? random.shuffle(fingers).slice(0, 2) : [random.pick(fingers)];
		const from = n % 3 === 1 ? take.plan.whole[5] + 1 : 0;
		for (const channel of channels) stuck(take, channel, levelOf(take), from);
		return faultyCase(
			take.convert().settle(),
			channels.map(channel => must(code, channel, {from, evidenceAt: take.plan.wholeBy(4, from)})),
			{
				expect: {
					states: Object.fromEntries(channels.map(channel => [channel, ['faulty']])),
					verdicts: ['fail', 'attention'],
				},
			},
		);
	};

/** Frames that no stroke crosses: two neighbours on either side are alike. */
function calmFrames(take: Take, finger: string): number[] {
	const level = take.level(finger);
	const calm: number[] = [];
	for (let k = 3; k < take.count - 4; k++) {
		if (Math.max(...level.subarray(k - 2, k + 3)) - Math.min(...level.subarray(k - 2, k + 3)) < 0.02) calm.push(k);
	}
	return calm;
}

const wide: GloveWishes = {span: [0.42, 0.6]};

export const contactFamilies: readonly Family[] = [
	{name: 'stuck-low', code: 'stuck-low', cases: 5, draw: stuckCase('stuck-low', take => take.random.uniform(0, 0.003))},
	{
		name: 'stuck-high',
		code: 'stuck-high',
		cases: 5,
		draw: stuckCase('stuck-high', take => take.random.uniform(0.997, 1)),
	},
	{name: 'stuck-mid', code: 'stuck-mid', cases: 6, draw: stuckCase('stuck-mid', take => take.random.uniform(0.2, 0.8))},
	{
		name: 'stick at a rail',
		code: 'stuck-low',
		cases: 4,
		draw: (random, n) => {
			const take = perform(random, {stick: true}, (plan, glove) => {
				usual(plan, glove);
				pushSides(plan, 2);
			});
			const axis = random.pick(['stick-x', 'stick-y']);
			const high = n % 2 === 1;
			disturb(take, axis, () => (high ? 1 : 0));
			return faultyCase(take.convert().settle(), [must(high ? 'stuck-high' : 'stuck-low', axis, {evidenceAt: 3})], {
				expect: {states: {[axis]: ['faulty']}},
			});
		},
	},
	{
		name: 'dropout, jumps',
		code: 'dropout',
		cases: 6,
		draw: random => {
			const take = perform(random, wide, unhurried);
			const finger = random.pick(take.glove.fingers);
			const calm = random.shuffle(calmFrames(take, finger));
			// Far more than three within any minute, and never two so near that they could be one.
			const wanted = Math.ceil(take.seconds / 4);
			const hits: number[] = [];
			for (const k of calm) {
				if (hits.length >= wanted) break;
				if (hits.every(hit => Math.abs(hit - k) > 0.5 * take.rate)) hits.push(k);
			}
			take.convert();
			const reading = take.reading(finger);
			for (const k of hits) {
				const away = reading[k] / take.glove.fullScale > 0.5 ? -1 : 1;
				const leap = random.uniform(0.32, 0.48) * away * take.glove.fullScale;
				// At most 40 ms, and a single frame where frames are slow.
				const frames = take.rate < 50 ? 1 : random.integer(1, Math.max(1, Math.floor(0.04 * take.rate)));
				for (let n = 0; n < frames; n++) reading[k + n] += leap;
			}
			const times = hits.map(k => k / take.rate).sort((a, b) => a - b);
			return faultyCase(take.settle(), [
				must('dropout', finger, {from: times[0], evidenceAt: times[2], until: times.at(-1)!}),
			]);
		},
	},
	{
		name: 'dropout, stretches',
		code: 'dropout',
		cases: 5,
		draw: random => {
			const take = perform(random, {...wide, rates: [50, 100, 200], open: [0.25, 0.3], inverted: false}, unhurried);
			const finger = random.pick(take.glove.fingers);
			const calm = calmFrames(take, finger).filter(k => take.level(finger)[k] < 0.55);
			const spans: [number, number][] = [];
			for (const k of random.shuffle(calm)) {
				const length = Math.round(random.uniform(0.3, 1.8) * take.rate);
				const clear = spans.every(([from, to]) => k + length < from - take.rate || k > to + take.rate);
				// Comes back where it was, so that both ends are leaps.
				if (clear && calm.includes(k + length)) spans.push([k, k + length]);
				if (spans.length === 5) break;
			}
			const rail = random.pick([0, 1]);
			take.convert();
			for (const [from, to] of spans) {
				openPin(take, finger, {...stillPin, plateau: rail}, from, to);
			}
			const ends = spans.map(([, to]) => to / take.rate).sort((a, b) => a - b);
			const from = Math.min(...spans.map(([k]) => k)) / take.rate;
			return faultyCase(take.settle(), [must('dropout', finger, {from, evidenceAt: ends[1], until: ends.at(-1)!})]);
		},
	},
	{
		name: 'rough-track',
		code: 'rough-track',
		cases: 5,
		draw: random => {
			const take = perform(random, {rates: [50, 100, 100, 200], span: [0.35, 0.5]}, plan => {
				rest(plan, 4);
				fists(plan, 8, {seconds: [0.9, 1.4]});
				rest(plan, 5);
				eachAlone(plan, 3);
				rest(plan, 5);
				fists(plan, 4, {seconds: [0.9, 1.4]});
			});
			const finger = random.pick(take.glove.fingers.slice(1));
			const closing = take.closings.get(finger)!;
			take.convert();
			const reading = take.reading(finger);
			// 4 to 7 a second while it moves; a worn pot was seen with 169 a minute (H-real). Never two within 60 ms.
			const perFrame = random.uniform(4, 7) / take.rate;
			let last = -1;
			for (let k = 3; k < take.count - 3; k++) {
				const speed = Math.abs(closing[k + 1] - closing[k - 1]) * take.rate * 0.5;
				if (speed < 0.25 || k - last < 0.06 * take.rate + 3 || !random.chance(perFrame)) continue;
				// Well beyond twice what the stroke itself does from frame to frame, and no leap that a lost contact would be.
				reading[k] += random.pick([-1, 1]) * random.uniform(0.1, 0.15) * take.glove.fullScale;
				last = k;
			}
			return faultyCase(take.settle(), [must('rough-track', finger)]);
		},
	},
];
