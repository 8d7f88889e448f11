import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import {bendOfNoise, bendOfWander, Wander} from '../random.ts';
import {aliasOf, humShows} from './alias.ts';

/** rms of x[n] − (x[n−1] + x[n+1])/2 from which the definition finds it, and up to which it must not, as shares of full scale. */
const limits = {mustNot: 0.003, must: 0.005, gross: 0.02};

/** A sine whose second differences are smaller against its first is as smooth as a stroke. */
const leastJagged = 0.4;

/** Pairs correlate by 0.8 by the definition; with room for noise of their own. */
const leastShared = 0.9;

/** A supply that shakes by more stops the board. */
const mostDepth = 0.12;

/** Slower than this per frame the shaking is a sway: no supply that meets the definition. */
const leastBend = 0.1;

/** The potentiometers' supply shakes while the converter's reference does not: every reading in proportion to its level. */
export const supplyRipple: FaultModel = {
	code: 'supply-ripple',
	scope: 'link',
	variants: ['motor', 'rectifier', 'sag'],
	install(rig, fault) {
		const {random, severity, window, variant} = fault;
		const wanted = graded(severity, limits, 0.15);
		const levels = rig.channels.map((channel, i) => rig.restShare(i) * channel.gain).sort((a, b) => a - b);
		// Every channel has to meet the definition; for "must not" none may exceed it, wherever the hand takes it.
		const level = severity < 0 ? 1 : levels[0];
		const mains = random.pick([100, 120]);
		const phase = random.uniform(0, 6.28);
		const seconds = variant === 'sag' ? random.uniform(0.03, 0.1) : random.uniform(0.004, 0.02);
		const {rate} = rig.stream;
		const angle = (2 * Math.PI * aliasOf(mains, rate)) / rate;
		const isSine = variant === 'rectifier';
		const bend = Math.max(leastBend, isSine ? 1 - Math.cos(angle) : bendOfWander(1 / rate, seconds));
		const rms = Math.min(mostDepth, wanted / level / bend);
		const wander = new Wander(random.fork('wander'), rms, seconds);
		let on = true;
		let until = window.spans[0][0] + random.uniform(1, 3);
		rig.supply.push(t => {
			if (!window.has(t)) return 1;
			if (variant === 'rectifier') return 1 + rms * Math.SQRT2 * (Math.sin(2 * Math.PI * mains * t + phase) - 1);
			if (variant === 'motor') {
				if (t >= until) {
					on = !on;
					until = t + (on ? random.uniform(1, 4) : random.uniform(0.2, 1));
				}
				// A running motor pulls the supply down and makes it shake.
				return on ? Math.min(1.05, 1 - 1.5 * rms + wander.at(t)) : 1;
			}
			return 1 - 2 * rms + wander.at(t);
		});
		const least = levels[0] * rms * bend;
		// Pairs correlate by 0.8 where the shared part is twice as large.
		const isClear = least >= 1.06 * limits.must && least >= 2.2 * bendOfNoise * rig.noiseShare;
		const isOffRails = levels[0] >= 0.03 && levels[levels.length - 1] * (1 + 3 * rms) <= 0.97;
		const isJagged = !isSine || (humShows(mains, rate) && Math.sin(angle / 2) >= leastJagged);
		// Channels are read one after the other: what the supply forgets meanwhile they do not share.
		const isAtOnce = isSine || Math.exp(-((rig.channels.length - 1) * rig.readSeconds) / seconds) >= leastShared;
		return {
			must: isAtOnce && isClear && isOffRails && isJagged && rate >= 35 && !rig.smooths && !rig.scales,
			may: rig.channels.flatMap(({name}) => [
				{code: 'excess-noise', channel: name},
				{code: 'mains-hum', channel: name},
			]),
		};
	},
};
