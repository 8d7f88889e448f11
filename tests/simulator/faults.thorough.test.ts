import {mean, median, quantile, sampleCorrelation, standardDeviation} from 'simple-statistics';
import {describe, expect, test} from 'vitest';
import type {FaultSpec} from '../../source/simulator/fault-model.ts';
import {faultModels} from '../../source/simulator/faults/catalogue.ts';
import {type BenchOptions, benchSpec, between, fullScale, type Reading, range, read} from './bench.ts';

/**
 * Each fault is held against the definition of its finding (the table of "must" and "must not") by a plain computation
 * on the stream: at severity 0 it has to satisfy "must", at −1 "must not". Where a definition compares with how a sound
 * glove would read, that is the same simulation without the fault: the same hand, noise and times.
 */
type Judge = {
	readonly channel?: string;
	readonly options?: BenchOptions;
	/** Variants left out: those that never meet the definition on purpose. */
	readonly not?: readonly string[];
	readonly must: (reading: Reading, sound: Reading) => void;
	readonly mustNot: (reading: Reading, sound: Reading) => void;
};

const restSeconds = [0.5, 5.5] as const;

function rest(reading: Reading, name: string): number[] {
	return between(reading, name, ...restSeconds);
}

function percent(counts: number): number {
	return (counts / fullScale) * 100;
}

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'];

/** Arrival gaps between frames, seconds. */
function gaps(reading: Reading): number[] {
	return reading.times.slice(1).map((t, i) => t - reading.times[i]);
}

/** Interarrival jitter of RFC 3550 with the median gap for the sender's spacing, mean over the stream after settling. */
function jitterShare(reading: Reading): number {
	const spacing = median(gaps(reading));
	let jitter = 0;
	const settled: number[] = [];
	for (const [i, gap] of gaps(reading).entries()) {
		jitter += (Math.abs(gap - spacing) - jitter) / 16;
		if (i > 100) settled.push(jitter);
	}
	return mean(settled) / spacing;
}

/**
 * Half seconds as the definition of supply-ripple looks at them: of each channel the rms of what a reading is off the
 * mean of its neighbours (`bend`), that of its steps, and its mean level; and the least correlation of any two bends.
 */
function leaps(reading: Reading) {
	const frames = Math.round(reading.spec.stream.rate / 2);
	const rms = (values: readonly number[]) => Math.sqrt(mean(values.map(value => value * value)));
	const columns = reading.truth.scanOrder.map(name => reading.columns[name]);
	const windows = Math.floor((columns[0].length - 2) / frames);
	return Array.from({length: windows}, (_, window) => {
		const places = Array.from({length: frames}, (__, i) => 1 + window * frames + i);
		const bends = columns.map(x => places.map(n => x[n] - (x[n - 1] + x[n + 1]) / 2));
		const channels = columns.map((x, c) => ({
			bend: rms(bends[c]),
			step: rms(places.map(n => x[n] - x[n - 1])),
			level: mean(places.map(n => x[n])),
		}));
		const pairs = bends.flatMap((one, i) => bends.slice(i + 1).map(other => sampleCorrelation(one, other)));
		return {from: reading.times[places[0]], channels, correlation: Math.min(...pairs)};
	});
}

/** Share of lines that are no frame, the first and last excepted. */
function badShare(reading: Reading): number {
	const fields = reading.truth.columns.length;
	const inner = reading.lines.slice(1, -1);
	const bad = inner.filter(line => !new RegExp(`^\\d+(,\\d+){${fields - 1}}$`).test(line)).length;
	return bad / inner.length;
}

/** Frames in which two readings differ by a fifth of full scale, as runs of [start, end] times. */
function jumps(reading: Reading, sound: Reading, name: string): [number, number][] {
	const runs: [number, number][] = [];
	let open = false;
	for (const [i, value] of reading.columns[name].entries()) {
		const far = Math.abs(value - sound.columns[name][i]) >= 0.2 * fullScale;
		if (far && !open) runs.push([reading.times[i], reading.times[i]]);
		if (far) runs[runs.length - 1][1] = reading.times[i];
		open = far;
	}
	return runs;
}

/** Kinks a minute of movement as the definition counts them: frames off a sound glove's, one or two at a time. */
function kinksPerMinute(reading: Reading, sound: Reading, name: string): number {
	const [values, smooth] = [reading.columns[name], sound.columns[name]];
	const span = range(smooth);
	const least = Math.max(0.015 * fullScale, 0.05 * span);
	const half = Math.round(0.25 / (reading.times[1] - reading.times[0]));
	let [moving, kinks] = [0, 0];
	for (let i = half; i < values.length - half; i++) {
		if (Math.abs(smooth[i + half] - smooth[i - half]) < 0.05 * span) continue;
		moving++;
		const isOff = (frame: number) => Math.abs(values[frame] - smooth[frame]) >= least;
		if (isOff(i) && !isOff(i - 1)) kinks++;
	}
	return (60 * kinks) / (moving * (reading.times[1] - reading.times[0]));
}

/** Share of the time the hand moves in which a column lies within half a percent of a rail. */
function railShare(reading: Reading, sound: Reading, name: string, mover: string): number {
	const other = sound.columns[mover];
	let moving = 0;
	let atRail = 0;
	for (let i = 10; i < other.length - 10; i++) {
		if (Math.abs(other[i + 10] - other[i - 10]) < 0.02 * fullScale) continue;
		moving++;
		const value = reading.columns[name][i];
		if (value <= 0.005 * fullScale || value >= 0.995 * fullScale) atRail++;
	}
	return atRail / moving;
}

/** Reading of the open hand just before each closing. */
function openLevels(reading: Reading, name: string): number[] {
	return reading.truth.closings.filter(t => t > 0.5).map(t => median(between(reading, name, t - 0.1, t + 0.01)));
}

/** Amplitude of the sinusoid of `hertz` in evenly sampled values, by projection. */
function amplitude(values: readonly number[], times: readonly number[], hertz: number): number {
	const level = mean([...values]);
	let re = 0;
	let im = 0;
	for (const [i, value] of values.entries()) {
		re += (value - level) * Math.cos(2 * Math.PI * hertz * times[i]);
		im += (value - level) * Math.sin(2 * Math.PI * hertz * times[i]);
	}
	return (2 * Math.hypot(re, im)) / values.length;
}

/** Difference between bending and stretching at half travel, share of the span, with the sound twin for abscissa. */
function loopShare(reading: Reading, sound: Reading, name: string): number {
	const x = sound.columns[name];
	const y = reading.columns[name];
	const span = range(x);
	const low = quantile(x, 0.01);
	const up: number[] = [];
	const down: number[] = [];
	for (let i = 6; i < x.length - 6; i++) {
		const place = (x[i] - low) / span;
		const speed = x[i + 6] - x[i - 6];
		if (place < 0.4 || place > 0.6 || Math.abs(speed) < 0.01 * span) continue;
		(speed > 0 ? up : down).push(y[i] - x[i]);
	}
	return Math.abs(mean(down) - mean(up)) / span;
}

function buttonEdges(reading: Reading, name: string): number[] {
	const values = reading.columns[name];
	return reading.times.filter((_, i) => i > 0 && values[i] !== values[i - 1]);
}

/** Share of presses (level 0 after 40 ms of 1) followed by another edge within 25 ms. */
function bouncedShare(reading: Reading, name: string): number {
	const edges = buttonEdges(reading, name);
	const firsts = edges.filter((t, i) => i === 0 || t - edges[i - 1] > 0.04);
	const values = reading.columns[name];
	const presses = firsts.filter(t => values[reading.times.indexOf(t)] === 0);
	const bounced = presses.filter(t => edges.some(other => other > t && other - t <= 0.025));
	return bounced.length / presses.length;
}

function nonTextShare(reading: Reading): number {
	const text = reading.bytes.filter(
		byte => byte === 9 || byte === 10 || byte === 13 || (byte >= 32 && byte < 127),
	).length;
	return 1 - text / reading.bytes.length;
}

function worksHand(reading: Reading): void {
	for (const name of ['thumb', 'middle']) expect(percent(range(reading.columns[name]))).toBeGreaterThan(15);
}

const stickScript = 'rest 3s, stick around 3x, stick sides 3x, fist 2x';

const judges: Readonly<Record<string, Judge>> = {
	'floating-input': {
		channel: 'ring',
		not: ['plateau'],
		options: {stream: {rate: 160}},
		must: (reading, sound) => {
			worksHand(reading);
			const values = rest(reading, 'ring');
			const noise = percent(standardDeviation(values));
			const peak = percent(range(values) / 2);
			const follows = Math.abs(sampleCorrelation(reading.columns.ring, sound.columns.ring));
			// A copy of the middle finger, read just before it: least squares.
			const x = reading.columns.middle;
			const y = reading.columns.ring;
			const gain = (sampleCorrelation(x, y) * standardDeviation(y)) / standardDeviation(x);
			const offset = mean(y) - gain * mean(x);
			const residual = percent(Math.sqrt(mean(y.map((value, i) => (value - gain * x[i] - offset) ** 2))));
			const ghost = residual <= 0.4 && gain >= 0.3 && gain <= 0.98;
			const noisy = (noise >= 2 || peak >= 3) && follows < 0.35;
			expect({ghost, noisy, found: ghost || noisy}).toMatchObject({found: true});
		},
		mustNot: (reading, sound) => expect(reading.columns.ring).toEqual(sound.columns.ring),
	},
	'stuck-low': {
		channel: 'ring',
		must: reading => {
			worksHand(reading);
			expect(percent(Math.max(...reading.columns.ring))).toBeLessThanOrEqual(1);
			expect(percent(range(reading.columns.ring))).toBeLessThanOrEqual(0.3);
		},
		mustNot: (reading, sound) => expect(reading.columns.ring).toEqual(sound.columns.ring),
	},
	'stuck-high': {
		channel: 'ring',
		not: ['rail-flicker'],
		must: reading => {
			worksHand(reading);
			expect(percent(Math.min(...reading.columns.ring))).toBeGreaterThanOrEqual(99);
			expect(percent(range(reading.columns.ring))).toBeLessThanOrEqual(0.3);
		},
		mustNot: (reading, sound) => expect(reading.columns.ring).toEqual(sound.columns.ring),
	},
	'stuck-mid': {
		channel: 'ring',
		must: reading => {
			worksHand(reading);
			expect(percent(range(reading.columns.ring))).toBeLessThanOrEqual(0.3);
			expect(percent(mean(reading.columns.ring))).toBeGreaterThan(1);
			expect(percent(mean(reading.columns.ring))).toBeLessThan(99);
		},
		mustNot: (reading, sound) => expect(reading.columns.ring).toEqual(sound.columns.ring),
	},
	dropout: {
		channel: 'index',
		options: {seconds: 58, script: 'rest 2s, fist 4x, index 2x, play 10s'},
		must: (reading, sound) => {
			const runs = jumps(reading, sound, 'index');
			expect(runs.length).toBeGreaterThanOrEqual(3);
			// A run's last frame starts its own period: three frames last 30 ms.
			for (const [from, to] of runs) expect(to - from + 0.01).toBeLessThanOrEqual(0.0605);
		},
		mustNot: (reading, sound) => expect(jumps(reading, sound, 'index')).toEqual([]),
	},
	'rough-track': {
		channel: 'ring',
		options: {script: 'rest 2s, sweep 3x, fist 6x, each 1x'},
		must: (reading, sound) => expect(kinksPerMinute(reading, sound, 'ring')).toBeGreaterThanOrEqual(60),
		mustNot: (reading, sound) => expect(kinksPerMinute(reading, sound, 'ring')).toBeLessThanOrEqual(15),
	},
	'excess-noise': {
		channel: 'index',
		must: (reading, sound) => {
			expect(percent(standardDeviation(rest(reading, 'index')))).toBeGreaterThanOrEqual(1.5);
			expect(sampleCorrelation(reading.columns.index, sound.columns.index)).toBeGreaterThan(0.9);
		},
		mustNot: reading => expect(percent(standardDeviation(rest(reading, 'index')))).toBeLessThanOrEqual(0.6),
	},
	'mains-hum': {
		channel: 'index',
		options: {stream: {rate: 160}},
		must: reading => {
			const times = reading.times.filter(t => t >= restSeconds[0] && t < restSeconds[1]);
			const strongest = Math.max(...[50, 60].map(hertz => amplitude(rest(reading, 'index'), times, hertz)));
			expect(percent(strongest)).toBeGreaterThanOrEqual(1.5);
			expect(percent(strongest)).toBeLessThan(1.8);
		},
		mustNot: reading => expect(percent(range(rest(reading, 'index')) / 2)).toBeLessThanOrEqual(0.75),
	},
	'clipped-range': {
		channel: 'middle',
		options: {script: 'rest 2s, fist 6x, each 1x'},
		must: (reading, sound) => expect(railShare(reading, sound, 'middle', 'middle')).toBeGreaterThanOrEqual(0.1),
		mustNot: (reading, sound) => expect(railShare(reading, sound, 'middle', 'middle')).toBe(0),
	},
	'narrow-span': {
		channel: 'ring',
		must: reading => {
			const others = fingers.filter(name => name !== 'ring').map(name => range(reading.columns[name]));
			expect(reading.truth.closings.length).toBeGreaterThanOrEqual(3);
			expect(range(reading.columns.ring) / median(others)).toBeLessThanOrEqual(0.25);
		},
		mustNot: reading => {
			const others = fingers.filter(name => name !== 'ring').map(name => range(reading.columns[name]));
			expect(range(reading.columns.ring) / median(others)).toBeGreaterThanOrEqual(0.5);
		},
	},
	'baseline-drift': {
		channel: 'middle',
		options: {script: 'rest 2s, fist 8x', seconds: 40},
		must: (reading, sound) => {
			const levels = openLevels(reading, 'middle');
			expect(levels.length).toBeGreaterThan(7);
			const late = median(levels.slice(6, 10));
			expect(Math.abs(late - levels[0]) / range(sound.columns.middle)).toBeGreaterThanOrEqual(0.1);
		},
		mustNot: (reading, sound) => {
			const levels = openLevels(reading, 'middle');
			const scatter = median(openLevels(sound, 'middle'));
			for (const level of [median(levels.slice(0, 3)), median(levels.slice(-5))]) {
				expect(Math.abs(level - scatter) / range(sound.columns.middle)).toBeLessThanOrEqual(0.04);
			}
		},
	},
	backlash: {
		channel: 'middle',
		not: ['jump'],
		options: {script: 'rest 1s, sweep 2x, fist 4x', seconds: 40},
		must: (reading, sound) => expect(loopShare(reading, sound, 'middle')).toBeGreaterThanOrEqual(0.1),
		mustNot: (reading, sound) => {
			const own = reading.spec.glove.fingers[2].playShare;
			expect(loopShare(reading, sound, 'middle') + own).toBeLessThanOrEqual(0.042);
		},
	},
	'coarse-steps': {
		channel: 'index',
		must: reading => {
			const values = [...new Set(reading.columns.index)];
			const step = values.reduce((divisor, value) => greatestDivisor(divisor, value - values[0]), 0);
			expect(step).toBeGreaterThanOrEqual(8);
		},
		mustNot: (reading, sound) => expect(reading.columns.index).toEqual(sound.columns.index),
	},
	'reversed-sensor': {
		channel: 'ring',
		options: {script: 'rest 1s, fist 6x'},
		must: reading => {
			expect(percent(range(reading.columns.ring))).toBeGreaterThanOrEqual(20);
			expect(consensus(reading, 'ring')).toBeLessThanOrEqual(-0.8);
		},
		mustNot: reading => expect(consensus(reading, 'ring')).toBeGreaterThanOrEqual(0.3),
	},
	'duplicate-channel': {
		channel: 'ring',
		not: ['touching'],
		must: reading => {
			const {middle, ring} = reading.columns;
			const equal = ring.filter((value, i) => value === middle[i]).length / ring.length;
			expect(equal).toBeGreaterThanOrEqual(0.995);
			expect(percent(range(ring))).toBeGreaterThanOrEqual(20);
		},
		mustNot: (reading, sound) => expect(reading.columns).toEqual(sound.columns),
	},
	crosstalk: {
		channel: 'stick-x',
		options: {script: 'rest 2s, fist 5x, each 1x'},
		must: reading => expect(percent(range(reading.columns['stick-x']))).toBeGreaterThanOrEqual(3),
		mustNot: (reading, sound) => {
			const own = range(sound.columns['stick-x']);
			expect(percent(range(reading.columns['stick-x']) - own)).toBeLessThanOrEqual(1);
		},
	},
	'supply-ripple': {
		options: {glove: {clearance: 0.22, span: [0.3, 0.5]}, stream: {rate: 160}},
		must: reading => {
			const windows = leaps(reading);
			const found = windows.filter(({channels, correlation}) => {
				const perLevel = channels.map(({bend, level}) => bend / level);
				return (
					correlation >= 0.8 &&
					channels.every(({bend, step}) => percent(bend) >= 0.5 && bend >= 0.4 * step) &&
					Math.max(...perLevel) <= 1.4 * Math.min(...perLevel)
				);
			});
			expect(found.length).toBeGreaterThanOrEqual(3);
		},
		mustNot: reading => {
			const windows = leaps(reading);
			// Fingers that bend read higher, and shake by more; the definition asks for all channels at once.
			for (const {channels} of windows) {
				expect(percent(Math.min(...channels.map(({bend}) => bend)))).toBeLessThanOrEqual(0.31);
			}

			const resting = windows.filter(({from}) => from >= restSeconds[0] && from < restSeconds[1]);
			for (const i of reading.truth.scanOrder.keys()) {
				expect(percent(median(resting.map(({channels}) => channels[i].bend)))).toBeLessThanOrEqual(0.3);
			}
		},
	},
	'shared-ceiling': {
		options: {script: 'rest 1s, fist 6x'},
		must: reading => {
			const tops = fingers.map(name => quantile(reading.columns[name], 0.999));
			const flat = fingers.filter((name, i) => {
				const near = reading.columns[name].filter(value => tops[i] - value <= 0.005 * fullScale).length;
				return near / reading.columns[name].length > 0.05;
			});
			expect(flat.length).toBeGreaterThanOrEqual(3);
			const flatTops = flat.map(name => percent(quantile(reading.columns[name], 0.999))).sort((a, b) => a - b);
			// Three of them within 1 % of full scale of each other, at 50–95 %.
			expect(
				flatTops.some((top, i) => i + 2 < flatTops.length && flatTops[i + 2] - top <= 1 && top >= 50 && top <= 95),
			).toBe(true);
		},
		mustNot: (reading, sound) => expect(reading.columns).toEqual(sound.columns),
	},
	'wrong-full-scale': {
		options: {glove: {board: 'arm-12bit'}},
		must: reading => {
			const highest = Math.max(...fingers.flatMap(name => reading.columns[name]));
			const declared = reading.truth.declared.fullScale!;
			const pinned = fingers.filter(name => Math.max(...reading.columns[name]) === 1023).length;
			expect(highest > declared || (declared === 4095 && highest === 1023 && pinned >= 2)).toBe(true);
		},
		mustNot: reading => expect(reading.truth.declared.fullScale).toBe(4095),
	},
	'settings-stale': {
		channel: 'ring',
		options: {script: 'rest 1s, fist 6x'},
		must: reading => {
			const {inside, outside, isTurned} = besideSheet(reading, 'ring');
			expect({inside, outside, isTurned, stale: inside >= 0.1 || outside >= 0.05 || isTurned}).toMatchObject({
				stale: true,
			});
		},
		mustNot: reading => {
			for (const name of fingers) {
				const {inside, outside, isTurned} = besideSheet(reading, name);
				expect(inside, name).toBeLessThanOrEqual(0.03);
				expect(outside, name).toBeLessThanOrEqual(0.03);
				expect(isTurned, name).toBe(false);
			}
		},
	},
	'stick-off-centre': {
		channel: 'stick-x',
		must: reading => expect(Math.abs(percent(median(rest(reading, 'stick-x'))) - 50)).toBeGreaterThanOrEqual(12),
		mustNot: reading => expect(Math.abs(percent(median(rest(reading, 'stick-x'))) - 50)).toBeLessThanOrEqual(6),
	},
	'stick-no-return': {
		channel: 'stick-y',
		options: {script: 'rest 1s, stick sides 4x', seconds: 45},
		must: reading => expect(percent(standardDeviation(restPoints(reading, 'stick-y')))).toBeGreaterThanOrEqual(6),
		mustNot: reading => expect(percent(range(restPoints(reading, 'stick-y')))).toBeLessThanOrEqual(2.2),
	},
	'stick-short-throw': {
		channel: 'stick-x',
		options: {script: stickScript},
		must: reading => expect(Math.min(...reach(reading, 'stick-x'))).toBeLessThanOrEqual(0.6),
		mustNot: reading => expect(Math.min(...reach(reading, 'stick-x'))).toBeGreaterThanOrEqual(0.8),
	},
	'button-bounce': {
		channel: 'button-1',
		options: {stream: {rate: 200}, link: {baud: 250000}, script: 'press button-1 30x, rest 1s', seconds: 40},
		must: reading => expect(bouncedShare(reading, 'button-1')).toBeGreaterThanOrEqual(0.2),
		mustNot: reading => expect(bouncedShare(reading, 'button-1')).toBe(0),
	},
	'button-floating': {
		channel: 'button-1',
		options: {script: 'rest 20s'},
		not: ['hum'],
		must: reading => {
			const edges = buttonEdges(reading, 'button-1');
			expect(edges.filter(t => t >= 5 && t < 10).length).toBeGreaterThanOrEqual(40);
			const dwells = edges.slice(1).map((t, i) => t - edges[i]);
			expect(dwells.filter(dwell => dwell <= 0.0205).length / dwells.length).toBeGreaterThanOrEqual(0.5);
		},
		mustNot: reading => expect(buttonEdges(reading, 'button-1')).toEqual([]),
	},
	'button-held': {
		channel: 'button-1',
		must: reading => {
			expect(reading.columns['button-1'].every(level => level === 0)).toBe(true);
			expect(reading.columns['button-2'].filter(level => level === 1).length).toBeGreaterThan(1500);
		},
		mustNot: reading => expect(mean(reading.columns['button-1'])).toBeGreaterThan(0.9),
	},
	'wrong-baud': {
		not: ['double-clock'],
		must: reading => expect(nonTextShare(reading)).toBeGreaterThanOrEqual(0.2),
		mustNot: reading => expect(nonTextShare(reading)).toBeLessThanOrEqual(0.01),
	},
	'broken-frames': {
		options: {seconds: 60},
		must: reading => expect(badShare(reading)).toBeGreaterThanOrEqual(0.02),
		mustNot: reading => expect(badShare(reading)).toBeLessThanOrEqual(0.001),
	},
	'slow-frames': {
		must: reading => expect(reading.times.length / reading.spec.durationSeconds).toBeLessThanOrEqual(25),
		mustNot: reading => expect(reading.times.length / reading.spec.durationSeconds).toBeGreaterThanOrEqual(45),
	},
	'uneven-frames': {
		must: reading => expect(jitterShare(reading)).toBeGreaterThanOrEqual(0.3),
		mustNot: reading => expect(jitterShare(reading)).toBeLessThanOrEqual(0.12),
	},
	stall: {
		must: reading => expect(Math.max(...gaps(reading))).toBeGreaterThanOrEqual(0.5),
		mustNot: reading => expect(Math.max(...gaps(reading))).toBeLessThanOrEqual(5 * median(gaps(reading))),
	},
	'bursty-delivery': {
		options: {stream: {rate: 250}, link: {baud: 250000, packetBytes: 0}, seconds: 15},
		must: reading => expect(clumpedShare(reading)).toBeGreaterThanOrEqual(0.6),
		mustNot: reading => expect(clumpedShare(reading)).toBe(0),
	},
	'lost-frames': {
		options: {stream: {counter: 256}},
		must: reading => expect(skippedShare(reading, 256)).toBeGreaterThanOrEqual(0.005),
		mustNot: reading => expect(skippedShare(reading, 256)).toBe(0),
	},
	'line-saturated': {
		options: {link: {baud: 19200}, stream: {rate: 60}},
		must: reading => expect(reading.bytes.length / reading.spec.durationSeconds / 1920).toBeGreaterThanOrEqual(0.92),
		mustNot: reading => expect(reading.bytes.length / reading.spec.durationSeconds / 1920).toBeLessThanOrEqual(0.75),
	},
	'device-restart': {
		options: {glove: {board: 'esp32'}, stream: {clock: 'ms'}, start: 'clean'},
		must: reading => {
			const {clock} = reading.columns;
			expect(clock.filter((ms, i) => i > 0 && ms < clock[i - 1] && ms < 2000).length).toBeGreaterThanOrEqual(1);
		},
		mustNot: reading => {
			const {clock} = reading.columns;
			expect(clock.filter((ms, i) => i > 0 && ms < clock[i - 1])).toEqual([]);
		},
	},
	'stray-text': {
		must: reading => {
			const stray = reading.lines.filter(line => /[a-z]/i.test(line));
			expect(stray.length).toBeGreaterThanOrEqual(1);
			// Whole lines of their own: the frames around them are unharmed.
			expect(reading.times.length).toBe(reading.lines.length - stray.length);
		},
		mustNot: reading => expect(badShare(reading)).toBe(0),
	},
	silent: {
		must: reading => {
			const first = reading.times[0] ?? reading.spec.durationSeconds;
			const last = reading.times[reading.times.length - 1] ?? 0;
			expect(first >= 3 || reading.spec.durationSeconds - last >= 5).toBe(true);
		},
		mustNot: reading => {
			expect(reading.times[0]).toBeLessThan(3);
			expect(reading.spec.durationSeconds - reading.times[reading.times.length - 1]).toBeLessThan(5);
		},
	},
	'port-lost': {
		must: reading => {
			const at = reading.items.findIndex(item => 'event' in item && item.event === 'port-lost');
			expect(at).toBeGreaterThan(0);
			expect(reading.items.slice(at + 1).every(item => !('bytes' in item))).toBe(true);
		},
		mustNot: reading => expect(reading.items.every(item => !('event' in item))).toBe(true),
	},
};

function greatestDivisor(a: number, b: number): number {
	return b === 0 ? Math.abs(a) : greatestDivisor(b, a % b);
}

/** How far a finger's ends lie inside and outside those of the sheet, shares of its span, and whether it goes the other way. */
function besideSheet(reading: Reading, name: string) {
	const {min, max, inverted} = reading.truth.declared.fingers![name];
	const [low, high] = [quantile(reading.columns[name], 0.01), quantile(reading.columns[name], 0.99)];
	// Rest before the first fist: the hand is open.
	const open = mean(between(reading, name, 0.2, 0.8));
	const falls = open > (low + high) / 2;
	return {
		inside: Math.max(low - min, max - high) / (max - min),
		outside: Math.max(min - low, high - max) / (max - min),
		isTurned: falls !== inverted,
	};
}

/** Correlation of one finger with the mean of the others, each over its range. */
function consensus(reading: Reading, name: string): number {
	const others = fingers
		.filter(other => other !== name)
		.map(other => ({values: reading.columns[other], span: range(reading.columns[other])}));
	const together = reading.columns[name].map((_, i) => mean(others.map(({values, span}) => values[i] / span)));
	return sampleCorrelation(reading.columns[name], together);
}

/** Mean reading in each pause of the stick of at least 0.2 s. */
function restPoints(reading: Reading, name: string): number[] {
	const values = reading.columns[name];
	const points: number[] = [];
	let run: number[] = [];
	for (const [i, value] of values.entries()) {
		const moved = i > 0 && Math.abs(value - values[i - 1]) > 0.004 * fullScale;
		if (!moved) run.push(value);
		if (moved || i === values.length - 1) {
			// Holding the stick at its gate is no rest.
			if (run.length >= 20 && Math.abs(percent(mean(run)) - 50) < 30) points.push(mean(run.slice(10)));
			run = [];
		}
	}
	return points;
}

/** Farthest reading to either side of mid-scale, shares of half scale. */
function reach(reading: Reading, name: string): [number, number] {
	const values = reading.columns[name];
	return [1 - Math.min(...values) / (fullScale / 2), Math.max(...values) / (fullScale / 2) - 1];
}

/** Share of frames in groups of three or more with less than a tenth of the mean interval between them. */
function clumpedShare(reading: Reading): number {
	const limit = (0.1 * (reading.times[reading.times.length - 1] - reading.times[0])) / (reading.times.length - 1);
	let group = 1;
	let clumped = 0;
	for (const gap of [...gaps(reading), Number.POSITIVE_INFINITY]) {
		if (gap < limit) {
			group++;
			continue;
		}
		if (group >= 3) clumped += group;
		group = 1;
	}
	return clumped / reading.times.length;
}

/** Share of frames missing by the counter: (seq − prev − 1) mod n (check-values U18). */
function skippedShare(reading: Reading, modulus: number): number {
	const {counter} = reading.columns;
	let lost = 0;
	for (let i = 1; i < counter.length; i++) lost += (counter[i] - counter[i - 1] - 1 + modulus) % modulus;
	return lost / (lost + counter.length);
}

const twins = new Map<string, Reading>();

/** The same glove and hand without the fault. */
function sound(code: string, seed: number, options: BenchOptions | undefined): Reading {
	const key = `${code} ${seed}`;
	const twin = twins.get(key) ?? read(benchSpec([], {...options, seed}));
	twins.set(key, twin);
	return twin;
}

describe('every fault', () => {
	test('that a stream can show has a judge here', () => {
		const bringUp = ['swapped-channels', 'stick-reversed', 'stick-swapped'];
		expect(Object.keys(judges).sort()).toEqual([...faultModels.keys()].filter(code => !bringUp.includes(code)).sort());
	});
});

describe.each(Object.entries(judges))('%s', (code, judge) => {
	const {variants} = faultModels.get(code)!;
	for (const variant of variants.filter(name => !judge.not?.includes(name))) {
		const reading = (severity: number, seed: number): Reading => {
			const fault: FaultSpec = {code, channel: judge.channel ?? null, severity, variant};
			const result = read(benchSpec([fault], {...judge.options, seed}));
			expect(result.truth.faults[0].expect).toBe(severity < 0 ? 'must-not' : 'must');
			return result;
		};

		for (const seed of [1, 2]) {
			test(`${variant} at severity 0 meets the definition (seed ${seed})`, () =>
				judge.must(reading(0, seed), sound(code, seed, judge.options)));
		}
		test(`${variant} at severity −1 is healthy`, () => judge.mustNot(reading(-1, 3), sound(code, 3, judge.options)));
	}
});
