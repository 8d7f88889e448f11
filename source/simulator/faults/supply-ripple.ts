import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import {Wander} from '../random.ts';
import {humShows} from './alias.ts';

/** The potentiometers' supply shakes while the converter's reference does not: every reading in proportion to its level. */
export const supplyRipple: FaultModel = {
	code: 'supply-ripple',
	scope: 'link',
	variants: ['motor', 'rectifier', 'sag'],
	install(rig, fault) {
		const {random, severity, window, variant} = fault;
		const wanted = graded(severity, {mustNot: 0.003, must: 0.008, gross: 0.05}, 0.15);
		const levels = rig.channels.map((channel, i) => rig.restShare(i) * channel.gain).sort((a, b) => a - b);
		// A quarter of the channels may lie lower than the one that just meets the definition; for "must not" none may exceed.
		const level = severity < 0 ? levels[levels.length - 1] : levels[Math.floor(levels.length / 4)];
		const rms = wanted / level;
		const mains = random.pick([100, 120]);
		const phase = random.uniform(0, 6.28);
		const wander = new Wander(
			random.fork('wander'),
			rms,
			variant === 'sag' ? random.uniform(0.03, 0.1) : random.uniform(0.004, 0.02),
		);
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
		const quiet = levels[0] * rms >= 2.2 * rig.noiseShare;
		return {
			must: quiet && !rig.smooths && !rig.scales && (variant !== 'rectifier' || humShows(mains, rig.stream.rate)),
			may: rig.channels.flatMap(({name}) => [
				{code: 'excess-noise', channel: name},
				{code: 'mains-hum', channel: name},
			]),
		};
	},
};
