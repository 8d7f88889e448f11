import type {Drawn, Family} from '../case.ts';
import {eachAlone, fists, grasps, postures, rest} from '../gestures.ts';
import {quickRates} from '../glove.ts';
import type {Line} from '../lines.ts';
import {healthyCase} from '../proofs.ts';
import {press, pushSides, turnAround} from '../stick-moves.ts';
import {disturb, hum, shakeSupply, visibleMains} from '../supply.ts';
import type {Take} from '../take.ts';
import {everything, perform, type Routine} from './healthy.ts';
import {mechanicalPlay} from './mechanics.ts';

/** Whole hand, then every finger alone, with rests. */
const usual: Routine = plan => {
	rest(plan, 4);
	fists(plan, 6);
	rest(plan, 6);
	eachAlone(plan, 2);
	fists(plan, 3);
	rest(plan, 4);
};

const done = (take: Take): Drawn => healthyCase(take.convert().settle());

/** Levels of the open hands or of the fists brought together. */
function alike(take: Take, ends: 'open' | 'closed', at: number): void {
	for (const [i, finger] of take.glove.fingers.entries()) {
		const {open, span, direction} = take.glove.reels[i];
		const shift = at - (ends === 'open' ? open : open + direction * span);
		disturb(take, finger, level => level + shift);
	}
}

function settleSigned(take: Take, which: 'stick' | 'all'): void {
	const middle = (take.glove.fullScale + 1) / 2;
	for (const [name, reading] of take.readings) {
		if (which === 'all' || name.startsWith('stick'))
			take.readings.set(
				name,
				reading.map(counts => counts - middle),
			);
	}
}

/** A few frames off by a twentieth of the scale, on one finger or on all at once. */
function kinks(take: Take, names: readonly string[], perMinute: number): void {
	const {random, count, rate} = take;
	const wanted = Math.floor((perMinute * count) / rate / 60);
	for (let n = 0; n < wanted; n++) {
		const k = random.integer(5, count - 5);
		const off = random.uniform(0.05, 0.08) * (random.chance(0.5) ? 1 : -1);
		for (const name of names) take.level(name)[k] += off;
	}
}

/** Text as a board prints it when it starts (check-values S14). */
export const bootLines = [
	'ets Jul 29 2019 12:21:46',
	'rst:0x1 (POWERON_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)',
	'mode:DIO, clock div:1',
	'entry 0x400805e4',
];

/** XOR of the line's bytes in hexadecimal behind a star, as NMEA 0183 ends its sentences (from memory). */
function checked(line: Line): Line {
	let sum = 0;
	for (const byte of Buffer.from(line.text)) sum ^= byte;
	return {...line, text: `${line.text}*${sum.toString(16).toUpperCase().padStart(2, '0')}`};
}

/** One for each "must not" of the catalogue that a log can show (check-values D5.4). */
export const nearMissFamilies: readonly Family[] = [
	{
		name: 'noise of 0.45 %',
		cases: 3,
		draw: random => {
			const take = perform(random, {}, usual);
			const finger = random.pick(take.glove.fingers);
			disturb(take, finger, level => level + random.normal(0, 0.0042));
			return done(take);
		},
	},
	{
		name: 'hum of 0.3 %',
		cases: 3,
		draw: random => {
			const take = perform(random, {rates: quickRates}, usual);
			hum(take, random.pick(take.glove.fingers), 0.003, visibleMains(random, take.rate));
			return done(take);
		},
	},
	{
		name: 'thumb with 0.55 of the travel',
		cases: 4,
		draw: random =>
			done(
				perform(random, {thumb: [0.56, 0.6], curve: 0.05}, plan => {
					rest(plan, 3);
					fists(plan, 9);
					eachAlone(plan, 2);
				}),
			),
	},
	{
		name: 'play of 3 %',
		cases: 3,
		draw: random => {
			const take = perform(random, {curve: 0.03, rates: quickRates}, usual);
			mechanicalPlay(take, random.pick(take.glove.fingers.slice(1)), 0.03);
			return done(take);
		},
	},
	{
		name: 'creep of 2 %',
		cases: 3,
		draw: random => {
			const take = perform(random, {}, plan => fists(plan, 12, {open: [0, 0.012]}));
			const i = random.integer(1, 4);
			disturb(take, take.glove.fingers[i], (level, k) => level + (0.02 * take.glove.reels[i].span * k) / take.count);
			return done(take);
		},
	},
	{
		name: 'fists, then grasps, then fists',
		cases: 3,
		draw: random =>
			done(
				perform(random, {}, plan => {
					fists(plan, 6);
					grasps(plan, 8);
					postures(plan, 3, [2, 5]);
					fists(plan, 6);
				}),
			),
	},
	{
		name: 'ranges that widen',
		cases: 3,
		draw: random =>
			done(
				perform(random, {}, plan => {
					for (let n = 0; n < 8; n++) fists(plan, 2, {depth: [0.6 + 0.05 * n, 0.63 + 0.05 * n], open: [0, 0.02]});
				}),
			),
	},
	{
		name: 'ripple of 0.15 %',
		cases: 4,
		draw: random => {
			const take = perform(random, {rates: quickRates, board: 'avr'}, usual);
			const top = Math.max(
				...take.glove.reels.map(({open, span, direction}) => Math.max(open, open + direction * span)),
			);
			shakeSupply(take, 0.0016 / top, [[0, take.seconds]]);
			return done(take);
		},
	},
	{
		name: 'fists whose levels differ',
		cases: 3,
		draw: random =>
			done(
				perform(random, {span: [0.4, 0.75]}, plan => {
					rest(plan, 2);
					fists(plan, 8, {hold: [0.5, 1.5]});
				}),
			),
	},
	{
		name: 'open hands that lie alike',
		cases: 3,
		draw: random => {
			const take = perform(random, {inverted: true, span: [0.4, 0.6]}, usual);
			alike(take, 'open', random.uniform(0.7, 0.9));
			return done(take);
		},
	},
	{
		name: 'a few kinks',
		cases: 3,
		draw: random => {
			const take = perform(random, {rates: [100, 200]}, usual);
			kinks(take, [random.pick(take.glove.fingers)], 8);
			return done(take);
		},
	},
	{
		name: 'kinks that all share',
		cases: 3,
		draw: random => {
			const take = perform(random, {rates: [100, 200], span: [0.4, 0.55]}, usual);
			kinks(take, take.glove.fingers, 100);
			// What all share comes from what all share: the supply may be named.
			return healthyCase(take.convert().settle(), {
				expect: {mays: [{code: 'supply-ripple', channels: 'any'}], verdicts: null, states: {}},
			});
		},
	},
	{
		name: 'neighbours that follow by 30 %',
		cases: 5,
		draw: random =>
			done(
				perform(random, {drag: 0.3, rates: [50, 100, 200]}, plan => {
					rest(plan, 3);
					eachAlone(plan, 4);
					fists(plan, 3);
					eachAlone(plan, 3);
				}),
			),
	},
	{
		name: 'crosstalk of 0.7 %',
		cases: 3,
		draw: random => {
			const take = perform(random, {stick: true}, usual);
			const before = take.level('little');
			const open = before[0];
			disturb(take, 'stick-x', (level, k) => level + 0.007 * ((before[k] - open) / take.glove.reels[4].span));
			return done(take);
		},
	},
	{
		name: 'signed stick',
		cases: 3,
		draw: random => {
			const take = perform(random, {stick: true}, everything).convert().settle();
			settleSigned(take, 'stick');
			return healthyCase(take);
		},
	},
	{
		name: 'all signed',
		cases: 3,
		draw: random => {
			const take = perform(random, {stick: true}, everything).convert().settle();
			settleSigned(take, 'all');
			return healthyCase(take);
		},
	},
	{
		name: 'stick 5 % off the middle',
		cases: 3,
		draw: random => {
			const take = perform(random, {stick: true}, everything);
			const axis = random.pick(['stick-x', 'stick-y']);
			const off = (random.chance(0.5) ? 1 : -1) * 0.05 + 0.5 - take.glove.stick![axis === 'stick-x' ? 'x' : 'y'];
			disturb(take, axis, level => level + off);
			return healthyCase(take.convert().settle(), {declared: {fullScale: take.glove.fullScale}});
		},
	},
	{
		name: 'stick that reaches 85 %',
		cases: 3,
		draw: random => {
			const take = perform(random, {stick: true}, plan => {
				rest(plan, 2);
				pushSides(plan, 4);
				turnAround(plan, 3);
				fists(plan, 3);
			});
			const [axis, side] = [random.pick(['stick-x', 'stick-y']), random.pick([-1, 1])];
			disturb(take, axis, level => {
				const way = level - 0.5;
				return Math.sign(way) === side ? 0.5 + way * (0.86 / 0.97) : level;
			});
			return done(take);
		},
	},
	{
		name: 'button tapped fast',
		cases: 3,
		draw: random =>
			done(
				perform(random, {buttons: 2, rates: [100, 200]}, (plan, glove) => {
					fists(plan, 3);
					for (let n = 0; n < 40; n++) {
						plan.presses.push({button: 1, start: plan.t, seconds: 0.07});
						plan.wait(random.uniform(0.14, 0.18));
					}
					press(plan, 2, 3, glove.rate);
					rest(plan, 2);
				}),
			),
	},
	{
		name: 'button kept pressed',
		cases: 2,
		draw: random =>
			done(
				perform(random, {buttons: 3}, plan => {
					rest(plan, 2);
					plan.presses.push({button: 1, start: 1.5, seconds: 18}, {button: 1, start: 25, seconds: 0.4});
					fists(plan, 8);
					rest(plan, 10);
				}),
			),
	},
	{
		name: 'jitter of 6 %',
		cases: 3,
		draw: random =>
			healthyCase(
				perform(random, {rates: [50, 100]}, everything)
					.convert()
					.settle(),
				{jitter: 0.06, stamp: 'recording'},
			),
	},
	{
		name: 'a gap of four frames',
		cases: 2,
		draw: random =>
			healthyCase(
				perform(random, {rates: [50, 100, 200]}, everything)
					.convert()
					.settle(),
				{
					stamp: 'recording',
					link: lines => lines.filter((_, k) => k % 1500 < 1497),
				},
			),
	},
	{
		name: 'boot text before the first frame',
		cases: 3,
		draw: random =>
			healthyCase(perform(random, {board: 'esp'}, everything).convert().settle(), {
				stamp: 'recording',
				link: lines => [
					...bootLines.map((text, n) => ({at: 0.01 * n, text})),
					...lines.map(line => ({...line, at: line.at + 0.6})),
				],
			}),
	},
	{
		name: 'checksum at the end of each line',
		cases: 2,
		draw: random =>
			healthyCase(perform(random, {}, everything).convert().settle(), {
				layout: 'comma',
				stamp: 'seconds',
				link: lines => lines.map(checked),
			}),
	},
	{
		name: 'log that begins within a line',
		cases: 3,
		draw: random =>
			healthyCase(perform(random, {}, everything).convert().settle(), {
				stamp: 'recording',
				layout: 'comma',
				link: ([first, ...rest]) => [
					{...first, text: first.text.slice(random.integer(2, first.text.length - 2))},
					...rest,
				],
			}),
	},
	{
		name: 'line at 65 %',
		cases: 3,
		draw: random => {
			const take = perform(random, {rates: [50], stick: true}, everything)
				.convert()
				.settle();
			// 50 frames a second of some 34 bytes, 10 bits each, are 17,000 bits a second.
			return healthyCase(take, {
				layout: 'comma',
				stamp: 'recording',
				recording: {baud: 28_800},
				declared: {baud: 28_800},
			});
		},
	},
	{
		name: 'counter without a gap',
		cases: 3,
		draw: random => {
			const take = perform(random, {}, everything).convert().settle();
			const start = random.integer(0, 200);
			const values = Float64Array.from({length: take.count}, (_, k) => (start + k) % 65_536);
			return healthyCase(take, {before: [{name: 'counter', values}]});
		},
	},
];
