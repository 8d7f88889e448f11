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

/** A contact that opens now and then, where and when that shows. */
class Contact {
	readonly #rig: Rig;
	readonly #fault: FaultSetting;
	readonly #node: Rig['channels'][number];
	readonly #gapSeconds: number;
	readonly #due: (t: number) => boolean;
	/** Where an open contact is pulled to, and the worn spot of the track; shares of the supply. */
	readonly #rail: number;
	readonly #spot: number;
	/** It is due to open as soon as that shows. */
	#waiting = false;
	#waitingSince = 0;
	/** It is open until then, and reads this, or the ghost of the channel before. */
	#until = Number.NEGATIVE_INFINITY;
	#target = 0;
	#isGhost = false;
	#before = Number.NaN;

	constructor(rig: Rig, fault: FaultSetting) {
		const {random, severity, window, index} = fault;
		this.#rig = rig;
		this.#fault = fault;
		this.#node = rig.channels[index];
		const [from, to] = window.spans[0];
		const seconds = Math.min(to, rig.durationSeconds) - from;
		// Four in a minute at the limit, and at least four in what there is of the stream.
		this.#gapSeconds = Math.min(graded(severity, {mustNot: 60, must: 14, gross: 0.7}), seconds / 4.5);
		this.#due = openings(fault, this.#gapSeconds);
		this.#rail = random.chance(0.5) ? random.uniform(0, 0.02) : random.uniform(0.97, 1);
		const {finger} = this.#node;
		this.#spot = finger
			? rig.restShare(index) + finger.direction * rig.spanShare(index) * random.uniform(0.3, 0.7)
			: random.uniform(0.2, 0.4);
	}

	/** What the pin sees of these volts, shares of the supply. */
	volts(t: number, volts: number): number {
		const {window, random, variant} = this.#fault;
		const last = this.#before;
		this.#before = volts;
		if (!window.has(t)) return volts;
		if (t < this.#until) return this.#isGhost ? this.#ghost() : this.#target;
		if (this.#due(t) && !this.#waiting) {
			this.#waiting = true;
			this.#waitingSince = t;
		}
		if (!this.#opens(last, volts)) return volts;
		const now = this.#node.outputShare(volts);
		this.#aim(t, volts, now);
		if (!this.#shows(this.#target, now)) return volts;
		this.#waiting = false;
		this.#fault.acts(t);
		this.#until = t + openSeconds(this.#rig, random, variant === 'spike');
		return this.#target;
	}

	/** A worn spot opens where it is crossed, most often; the others when they are due. */
	#opens(last: number, volts: number): boolean {
		const {random, severity, variant} = this.#fault;
		if (variant !== 'worn-spot') return this.#waiting;
		const crossed = (last - this.#spot) * (volts - this.#spot) <= 0 && Math.abs(last - volts) > 1e-4;
		return crossed && random.chance(Math.min(1, 0.4 + 0.6 * severity));
	}

	/** What the open contact is to read. */
	#aim(t: number, volts: number, now: number): void {
		const {random, variant} = this.#fault;
		this.#isGhost = variant === 'to-neighbour';
		if (variant === 'spike')
			this.#target = volts + (volts < 0.5 ? 1 : -1) * random.uniform(0.24, 0.5) * (random.chance(0.8) ? 1 : -1);
		else if (variant === 'to-neighbour') this.#target = this.#ghost();
		else this.#target = this.#pull(now);
		if (this.#isGhost && !this.#shows(this.#target, now) && t - this.#waitingSince > this.#gapSeconds / 3) {
			// The channel before stands too near by now: the pull of the open pin itself shows instead.
			this.#isGhost = false;
			this.#target = this.#pull(now);
		}
	}

	/** An open contact pulls one way: where the reading is near that rail already, nothing is to be seen. */
	#pull(now: number): number {
		return this.#shows(this.#rail, now) ? this.#rail : Math.abs(1 - this.#rail);
	}

	#ghost(): number {
		return 0.9 * this.#rig.held + 0.1 * this.#rail;
	}

	#shows(candidate: number, now: number): boolean {
		return Math.abs(this.#node.outputShare(candidate) - now) >= jumpShare;
	}
}

/** Intermittent contact: wire, crimp or a worn spot of the track (check-values P4, T4). */
export const dropout: FaultModel = {
	code: 'dropout',
	scope: 'analog',
	variants: ['to-rail', 'to-neighbour', 'spike', 'worn-spot'],
	install(rig, fault) {
		const {severity, variant, index, channel} = fault;
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
		const contact = new Contact(rig, fault);
		node.volts.push((t, volts) => contact.volts(t, volts));
		if (variant === 'to-neighbour' || variant === 'worn-spot')
			return {...outcome, must: outcome.must && node.kind === 'finger'};
		return outcome;
	},
};
