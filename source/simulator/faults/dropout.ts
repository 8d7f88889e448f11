import type {FaultModel, FaultSetting} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import type {Random} from '../random.ts';
import type {Rig} from '../rig.ts';

/** Smallest jump worth the name in the definition, 20 % of full scale, with room for noise. */
const jumpShare = 0.23;

/** How long one contact failure lasts: one to three frames, or at most 55 ms where frames are short. */
function openSeconds(rig: Rig, random: Random, single: boolean): number {
	const frame = rig.frameSeconds;
	if (single) return 0.6 * frame;
	const seconds = random.logUniform(0.001, 0.055);
	const frames = Math.max(0.6, Math.min(2.6, seconds / frame));
	return frame < 0.018 ? Math.max(0.6 * frame, seconds) : frames * frame;
}

/** Times at which the contact opens, on average every `gapSeconds`, never much longer. */
function openings(fault: FaultSetting, gapSeconds: number): (t: number) => boolean {
	const {random, window} = fault;
	let next = window.spans[0][0] + gapSeconds * random.uniform(0.2, 0.7);
	return t => {
		if (t < next) return false;
		next = t + gapSeconds * random.uniform(0.5, 1.3);
		return true;
	};
}

/** Intermittent contact: wire, crimp or a worn spot of the track (check-values P4, T4). */
export const dropout: FaultModel = {
	code: 'dropout',
	scope: 'analog',
	variants: ['to-rail', 'to-neighbour', 'spike', 'worn-spot'],
	install(rig, fault) {
		const {random, severity, window, variant, index, channel} = fault;
		const node = rig.channels[index];
		const outcome = {
			// A median filter swallows single readings.
			must: !rig.smooths,
			may: [
				{code: 'excess-noise', channel},
				{code: 'floating-input', channel},
			],
		};
		if (severity <= -1) return outcome;
		const [from, to] = window.spans[0];
		const seconds = Math.min(to, rig.durationSeconds) - from;
		// Four in a minute at the limit, and at least four in what there is of the stream.
		const gapSeconds = Math.min(graded(severity, {mustNot: 60, must: 14, gross: 0.7}), seconds / 4.5);
		const due = openings(fault, gapSeconds);
		const rail = random.chance(0.5) ? random.uniform(0, 0.02) : random.uniform(0.97, 1);
		const spot = node.finger
			? rig.restShare(index) + node.finger.direction * rig.spanShare(index) * random.uniform(0.3, 0.7)
			: random.uniform(0.2, 0.4);
		let waiting = false;
		let waitingSince = 0;
		let until = Number.NEGATIVE_INFINITY;
		let target = 0;
		let ghost = false;
		let before = Number.NaN;
		node.volts.push((t, volts) => {
			const last = before;
			before = volts;
			if (!window.has(t)) return volts;
			if (t < until) return ghost ? 0.9 * rig.held + 0.1 * rail : target;
			if (due(t) && !waiting) {
				waiting = true;
				waitingSince = t;
			}
			if (variant === 'worn-spot') {
				const crossed = (last - spot) * (volts - spot) <= 0 && Math.abs(last - volts) > 1e-4;
				if (!crossed || !random.chance(Math.min(1, 0.4 + 0.6 * severity))) return volts;
			} else if (!waiting) {
				return volts;
			}
			const now = node.outputShare(volts);
			const shows = (candidate: number): boolean => Math.abs(node.outputShare(candidate) - now) >= jumpShare;
			// An open contact pulls one way: where the reading is near that rail already, nothing is to be seen.
			if (variant === 'to-rail' || variant === 'worn-spot') target = shows(rail) ? rail : Math.abs(1 - rail);
			else if (variant === 'to-neighbour') target = 0.9 * rig.held + 0.1 * rail;
			else target = volts + (volts < 0.5 ? 1 : -1) * random.uniform(0.24, 0.5) * (random.chance(0.8) ? 1 : -1);
			ghost = variant === 'to-neighbour';
			if (ghost && !shows(target) && t - waitingSince > gapSeconds / 3) {
				// The channel before stands too near by now: the pull of the open pin itself shows instead.
				ghost = false;
				target = shows(rail) ? rail : Math.abs(1 - rail);
			}
			if (!shows(target)) return volts;
			waiting = false;
			fault.acts(t);
			until = t + openSeconds(rig, random, variant === 'spike');
			return target;
		});
		if (variant === 'to-neighbour' || variant === 'worn-spot')
			return {...outcome, must: outcome.must && node.kind === 'finger'};
		return outcome;
	},
};
