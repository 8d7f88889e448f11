import type {FaultModel, FaultOutcome, FaultSetting} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import {bendOfNoise, bendOfWander, Wander} from '../random.ts';
import type {Rig} from '../rig.ts';
import {humShows} from './alias.ts';
import {drawHum} from './hum.ts';

/** Voltage of the open pin at `t`, share of the reference. */
type OpenPin = (t: number) => number;

/** Charge comes and goes at random around a bias. */
function wander(rig: Rig, fault: FaultSetting, gain: number): {pin: OpenPin; outcome: FaultOutcome} {
	const {random, severity} = fault;
	const rms = graded(severity, {mustNot: 0.004, must: 0.02, gross: 0.2}, 0.2) / gain;
	rig.openPins.set(fault.index, {swing: 0, peak: 0, rms});
	// Faster than any window over which rest is judged, so that the wander counts as noise there.
	const forgets = random.logUniform(0.008, 0.06);
	const fast = new Wander(random.fork('fast'), rms, forgets);
	const slow = new Wander(random.fork('slow'), rms * random.uniform(0.3, 1.5), random.uniform(0.5, 4));
	const bias = random.uniform(0.25, 0.75);
	const noise = (rms * gain * bendOfWander(1 / rig.stream.rate, forgets)) / bendOfNoise;
	const [[from]] = fault.window.spans;
	const follow = random.chance(0.5) ? 0 : random.uniform(0, 0.08);
	return {
		pin: t => bias + fast.at(t) + slow.at(t) + follow * (rig.held - bias),
		// On a channel that was wired until then only what lies between neighbouring frames tells, with some room.
		outcome: {must: !rig.smooths && (from <= 0 || noise >= 0.022)},
	};
}

function hum(rig: Rig, fault: FaultSetting, gain: number): {pin: OpenPin; outcome: FaultOutcome} {
	const {random, severity, channel} = fault;
	const pickup = drawHum(random, random.uniform(0, 0.5));
	const peak = graded(severity, {mustNot: 0.004, must: 0.03, gross: 0.45}, 0.2) / gain;
	rig.openPins.set(fault.index, {swing: 0, peak: humShows(pickup.hertz, rig.stream.rate) ? peak : 0, rms: 0});
	const bias = random.uniform(0.3, 0.7);
	const drift = new Wander(random.fork('drift'), random.uniform(0.001, 0.02), 3);
	const follow = random.chance(0.5) ? 0 : random.uniform(0, 0.06);
	return {
		pin: t => bias + peak * pickup.at(t) + drift.at(t) + follow * (rig.held - bias),
		outcome: {must: !rig.smooths && humShows(pickup.hertz, rig.stream.rate), may: [{code: 'mains-hum', channel}]},
	};
}

/** The sampling capacitor still holds the channel read before; a little leaks towards a bias (check-values A12, P13). */
function ghost(rig: Rig, fault: FaultSetting): {pin: OpenPin; outcome: FaultOutcome} {
	const {random, severity, index, channel} = fault;
	const gain =
		severity < 0 ? 0.35 * (1 + Math.max(-1, severity)) : Math.min(0.97, 0.35 + severity * 0.6 + random.normal(0, 0.03));
	const bias = random.uniform(0, 1);
	const rms = random.uniform(0, 0.0006);
	const before = index > 0 ? rig.channels[index - 1] : undefined;
	const sound = before ? {swing: rig.spanShare(index - 1) * before.gain, peak: 0, rms: 0} : {swing: 0, peak: 0, rms: 0};
	const shown = rig.openPins.get(index - 1) ?? sound;
	rig.openPins.set(index, {swing: gain * shown.swing, peak: gain * shown.peak, rms: gain * shown.rms});
	// What the definition asks of a copy, of pickup, or of wander, with some room.
	const copies = shown.swing * gain >= 0.1 && shown.swing >= 0.22;
	const shakes = gain * shown.peak >= 0.033 || gain * shown.rms >= 0.022;
	return {
		pin: () => gain * rig.held + (1 - gain) * bias + random.normal(0, rms),
		outcome: {
			must: (copies || shakes) && !rig.scales && !rig.smooths,
			may: [
				{code: 'crosstalk', channel},
				{code: 'duplicate-channel', channel},
				{code: 'narrow-span', channel},
			],
		},
	};
}

/** Leakage charges the pin until it settles: no wander, no travel. */
function plateau(rig: Rig, fault: FaultSetting): {pin: OpenPin; outcome: FaultOutcome} {
	rig.openPins.set(fault.index, {swing: 0, peak: 0, rms: 0});
	const {random, window, channel} = fault;
	const start = random.uniform(0.2, 0.6);
	const end = random.uniform(0.1, 0.7);
	const seconds = random.uniform(0.6, 5);
	const small = new Wander(random.fork('small'), random.uniform(0.0003, 0.003), 0.5);
	const from = window.spans[0][0];
	return {
		pin: t => end + (start - end) * Math.exp(-Math.max(0, t - from) / seconds) + small.at(t),
		outcome: {
			must: false,
			may: ['stuck-mid', 'stuck-low', 'baseline-drift', 'narrow-span'].map(code => ({code, channel})),
		},
	};
}

/** Quiet until somebody touches the wire. */
function touch(rig: Rig, fault: FaultSetting, gain: number): {pin: OpenPin; outcome: FaultOutcome} {
	const {random, severity, channel, window} = fault;
	const pickup = drawHum(random, random.uniform(0.1, 0.5));
	const touched = graded(severity, {mustNot: 0.004, must: 0.03, gross: 0.45}, 0.25) / gain;
	const untouched = touched * random.uniform(0.05, 0.15);
	rig.openPins.set(fault.index, {swing: 0, peak: humShows(pickup.hertz, rig.stream.rate) ? touched : 0, rms: 0});
	const bias = random.uniform(0.3, 0.7);
	let on = false;
	let until = window.spans[0][0] + random.uniform(0.5, 2);
	let level = untouched;
	let last = Number.NaN;
	return {
		pin: t => {
			if (t >= until) {
				on = !on;
				until = t + (on ? random.uniform(1.5, 5) : random.uniform(0.8, 3));
			}
			const step = Number.isNaN(last) ? 0 : t - last;
			last = t;
			level += ((on ? touched : untouched) - level) * (1 - Math.exp(-step / 0.08));
			return bias + level * pickup.at(t);
		},
		outcome: {
			must: !rig.smooths && humShows(pickup.hertz, rig.stream.rate),
			may: ['mains-hum', 'excess-noise'].map(code => ({code, channel})),
		},
	};
}

const kinds = {wander, hum, ghost, plateau, touch};

/** The wiper's wire is open: the pin shows whatever charge, pickup or leakage puts on it (check-values P13, A12). */
export const floatingInput: FaultModel = {
	code: 'floating-input',
	scope: 'analog',
	variants: ['wander', 'hum', 'ghost', 'touch', 'plateau'],
	install(rig, fault) {
		const channel = rig.channels[fault.index];
		const {pin, outcome} = kinds[fault.variant as keyof typeof kinds](rig, fault, channel.gain);
		// Below "must not" the wiper is sound and follows its finger.
		if (fault.severity > -1) channel.volts.push((t, volts) => (fault.window.has(t) ? pin(t) : volts));
		return outcome;
	},
};
