import type {Random} from '../../../../source/simulator/random.ts';
import {type CaseOptions, type Drawn, type Family, must} from '../case.ts';
import {eachAlone, fists, rest} from '../gestures.ts';
import type {GloveWishes} from '../glove.ts';
import {type Line, writeFrame} from '../lines.ts';
import {faultyCase} from '../proofs.ts';
import type {Take} from '../take.ts';
import {loseBytes, readAtOtherSpeed} from '../wire.ts';
import {perform, type Routine} from './healthy.ts';
import {bootLines} from './near-misses.ts';

const usual: Routine = plan => {
	rest(plan, 4);
	fists(plan, 4);
	rest(plan, 5);
	eachAlone(plan, 2);
	fists(plan, 3);
	rest(plan, 4);
};

const sound = (random: Random, wishes: GloveWishes = {}): Take =>
	perform(random, {rates: [50, 100, 200], ...wishes}, usual)
		.convert()
		.settle();

const recorded = (
	take: Take,
	code: string,
	evidenceAt: number | null,
	more: CaseOptions & {from?: number; until?: number | null} = {},
): Drawn =>
	faultyCase(take, [must(code, 'any', {evidenceAt, from: more.from ?? 0, until: more.until ?? null})], {
		stamp: 'recording',
		...more,
	});

/** A counter that skips what was lost. */
function counted(take: Take, lost: (k: number) => boolean): CaseOptions {
	const start = take.random.integer(0, 5000);
	return {
		before: [{name: 'counter', values: Float64Array.from({length: take.count}, (_, k) => start + k)}],
		link: lines => lines.filter((_, k) => !lost(k)),
	};
}

/** Frames whose arrival is moved, never past one another. */
const moved = (lines: readonly Line[], at: (line: Line, k: number) => number): Line[] => {
	let last = -1;
	return lines.map((line, k) => {
		last = Math.max(last + 1e-5, at(line, k));
		return {...line, at: last};
	});
};

/** A pause of so many seconds from each of these frames on. */
const paused = (lines: readonly Line[], pauses: ReadonlyMap<number, number>): Line[] => {
	let late = 0;
	return lines.map((line, k) => {
		late += pauses.get(k) ?? 0;
		return {...line, at: line.at + late};
	});
};

/** The board starts again at frame `k`: what is lost meanwhile, and what it says. */
function restarted(lines: readonly Line[], k: number, rate: number, boot: readonly string[]): Line[] {
	const at = lines[k].at;
	const gap = 1.2;
	return [
		...lines.slice(0, k),
		...boot.map((text, n) => ({at: at + 0.4 + n * 0.003, text})),
		...lines.slice(k + Math.ceil(rate * 0.1)).map(line => ({...line, at: line.at + gap})),
	];
}

export const linkFamilies: readonly Family[] = [
	{
		name: 'wrong-baud',
		code: 'wrong-baud',
		cases: 4,
		draw: random => {
			const take = sound(random, {rates: [50]});
			// Text at 115,200 baud that was read at another speed, bit by bit. At half of it most of what comes out is text by chance.
			const readAt = random.pick([9600, 38_400, 74_880, 230_400]);
			const drawn = recorded(take, 'wrong-baud', 1.5, {
				layout: 'comma',
				link: lines => readAtOtherSpeed(lines, 115_200, readAt),
				expect: {
					states: {},
					mays: [
						'broken-frames',
						'stray-text',
						'silent',
						'slow-frames',
						'bursty-delivery',
						'uneven-frames',
						'stall',
					].map(code => ({code, channels: 'any'})),
				},
			});
			return drawn;
		},
	},
	{
		name: 'broken-frames',
		code: 'broken-frames',
		cases: 5,
		draw: random => {
			const take = sound(random, {stick: true});
			const share = random.uniform(0.05, 0.1);
			return recorded(take, 'broken-frames', 3, {
				layout: random.pick(['comma', 'tab', 'labels'] as const),
				link: lines => loseBytes(lines, share, random),
				// A label cut in two is text that is no frame.
				expect: {mays: [{code: 'stray-text', channels: 'any'}]},
			});
		},
	},
	{
		name: 'slow-frames',
		code: 'slow-frames',
		cases: 5,
		draw: random => {
			const rate = random.pick([6, 10, 15, 20]);
			const take = perform(random, {rates: [rate]}, usual)
				.convert()
				.settle();
			return recorded(take, 'slow-frames', 10, {
				stamp: random.pick(['recording', 'seconds', 'clock'] as const),
				// Steady frames, however few, are for maintenance.
				expect: {verdicts: ['attention']},
				declared: {targetRate: 30},
			});
		},
	},
	{
		name: 'uneven-frames',
		code: 'uneven-frames',
		cases: 4,
		draw: random => {
			const take = sound(random, {rates: [50, 100]});
			const spread = random.uniform(0.85, 1.1);
			return recorded(take, 'uneven-frames', null, {
				link: lines => {
					const at = lines
						.map(line => Math.max(0, line.at + random.uniform(-spread, spread) / take.rate))
						.sort((a, b) => a - b);
					return moved(lines, (_, k) => at[k]);
				},
				// Frames thrown about at random stand in clumps here and there.
				expect: {mays: [{code: 'bursty-delivery', channels: 'any'}]},
			});
		},
	},
	{
		name: 'stall',
		code: 'stall',
		cases: 4,
		draw: random => {
			const take = sound(random);
			const pauses = new Map(
				[0.3, 0.5, 0.75].map(share => [
					Math.floor((share + random.uniform(-0.05, 0.05)) * take.count),
					random.uniform(0.9, 3),
				]),
			);
			const first = Math.min(...pauses.keys());
			const at = first / take.rate;
			return recorded(take, 'stall', at + pauses.get(first)!, {from: at, link: lines => paused(lines, pauses)});
		},
	},
	{
		name: 'bursty-delivery',
		code: 'bursty-delivery',
		cases: 4,
		draw: random => {
			const take = sound(random, {rates: [100, 200]});
			const clump = random.integer(5, 10);
			return recorded(take, 'bursty-delivery', 2, {
				link: lines => moved(lines, (_, k) => ((Math.floor(k / clump) + 1) * clump) / take.rate + (k % clump) * 0.0002),
			});
		},
	},
	{
		name: 'lost-frames',
		code: 'lost-frames',
		cases: 4,
		draw: (random, n) => {
			const take = sound(random);
			if (n % 2 === 0) {
				const share = random.uniform(0.02, 0.04);
				return recorded(
					take,
					'lost-frames',
					null,
					counted(take, k => k > 50 && random.chance(share)),
				);
			}
			// A walk behind a wall: bursts within a third of the time.
			const third = take.count / 3;
			const burst = Math.ceil(take.rate * 0.12);
			return recorded(
				take,
				'lost-frames',
				null,
				counted(take, k => k > third && k < 2 * third && k % (take.rate * 2) < burst),
			);
		},
	},
	{
		name: 'line-saturated',
		code: 'line-saturated',
		cases: 4,
		draw: random => {
			const baud = random.pick([9600, 19_200, 38_400]);
			const names = ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y'];
			const bytes =
				writeFrame(
					names,
					names.map(() => 512),
					'labels',
				).length + 2;
			// As many frames as the line can carry, but for one in thirty.
			const rate = (baud / 10 / bytes) * 0.97;
			const take = perform(
				random,
				{rates: [rate], board: 'avr', stick: true, buttons: 0, open: [0.12, 0.3], inverted: false},
				usual,
			);
			return recorded(take.convert().settle(), 'line-saturated', null, {
				layout: 'labels',
				recording: {baud},
				declared: {baud, targetRate: rate * 0.9},
			});
		},
	},
	{
		name: 'restart by counter',
		code: 'device-restart',
		cases: 4,
		draw: (random, n) => {
			const take = sound(random);
			const k = Math.floor(take.count * random.uniform(0.4, 0.6));
			const since = n % 2 === 0 ? 9000 : 400_000;
			const name = n % 2 === 0 ? 'counter' : 'clock';
			const step = n % 2 === 0 ? 1 : 1000 / take.rate;
			const values = Float64Array.from({length: take.count}, (_, i) =>
				Math.floor(i < k ? since + i * step : (i - k) * step),
			);
			const at = k / take.rate;
			return recorded(take, 'device-restart', at + 1, {
				from: at,
				until: at + 1.2,
				before: [{name, values}],
				link: lines => restarted(lines, k, take.rate, []),
				expect: {states: {}},
			});
		},
	},
	{
		name: 'restart by start-up text',
		code: 'device-restart',
		cases: 4,
		draw: random => {
			const take = sound(random, {board: 'esp'});
			const k = Math.floor(take.count * random.uniform(0.4, 0.6));
			const at = k / take.rate + 1;
			return recorded(take, 'device-restart', at + 1, {
				from: at,
				until: at + 1.2,
				link: lines => [
					...bootLines.map((text, n) => ({at: 0.003 * n, text})),
					...restarted(lines, k, take.rate, bootLines).map(line => ({...line, at: line.at + 1})),
				],
				expect: {states: {}, mays: [{code: 'stray-text', channels: 'any'}]},
			});
		},
	},
	{
		name: 'stray-text',
		code: 'stray-text',
		cases: 4,
		draw: random => {
			const take = sound(random);
			const says = ['tick', 'heap low', 'loop took too long', 'recalibrating now'];
			const every = random.integer(150, 600);
			return recorded(take, 'stray-text', every / take.rate, {
				from: every / take.rate,
				stamp: random.pick(['recording', 'seconds', 'millis'] as const),
				link: lines =>
					lines.flatMap((line, k) =>
						k % every === every - 1 ? [{at: line.at, text: random.pick(says)}, line] : [line],
					),
			});
		},
	},
	{
		name: 'silent at the end',
		code: 'silent',
		cases: 3,
		draw: random => {
			const take = sound(random);
			const at = take.seconds;
			return recorded(take, 'silent', at + 5, {from: at, recording: {endsAt: at + random.uniform(8, 15)}});
		},
	},
	{
		name: 'silent from the start',
		code: 'silent',
		cases: 2,
		draw: random => {
			const take = sound(random);
			return recorded(take, 'silent', 3, {
				link: () => [],
				recording: {endsAt: random.uniform(6, 12)},
				expect: {states: {}, verdicts: ['fail', 'attention', 'unproven']},
			});
		},
	},
	{
		name: 'port-lost',
		code: 'port-lost',
		cases: 3,
		draw: random => {
			const take = sound(random);
			const at = take.seconds + 0.3;
			return recorded(take, 'port-lost', at, {
				from: at,
				recording: {endsAt: at + 1, events: [{t: at, event: 'port-lost'}]},
			});
		},
	},
];
