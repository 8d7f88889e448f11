import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/**
 * Frames at uneven times. `share` is the wanted mean of |D| of RFC 3550 over the median interval, which its jitter
 * settles at (check-values J4). With the median interval taken for the sender's spacing, D is interval − median:
 * exponential intervals m + Exp(b), m + b = 1: median 1 − b(1 − ln 2), mean |D| = b ln 2, so b = share / (ln 2 + (1 − ln 2) share);
 * two-valued 1 ± a: mean |D| = a, of a median that is 1 + a or 1 − a as chance has it; every n-th longer by e: mean |D| = e/n;
 * link delays uniform over w: mean |difference of two| = w/3.
 */
export const unevenFrames: FaultModel = {
	code: 'uneven-frames',
	scope: 'link',
	variants: ['exponential', 'two-valued', 'blocking', 'link'],
	install(rig, fault) {
		const {random, severity, window} = fault;
		const share = graded(severity, {mustNot: 0.12, must: 0.3, gross: 0.85}, 0.2);
		let {variant} = fault;
		if (variant === 'two-valued' && share > 0.44) variant = 'exponential';
		if (variant === 'link' && share > 0.45) variant = 'exponential';
		if (variant === 'link') {
			const width = 3 * share * rig.frameSeconds;
			rig.delivery.hooks.push(t => (window.has(t) ? t + random.uniform(0, width) : t));
		} else {
			const scale = share / (Math.LN2 + (1 - Math.LN2) * share);
			const apart = severity < 0 ? share / (1 + share) : share / (1 - share);
			const every = random.integer(3, 6);
			let n = 0;
			rig.interval.push((t, seconds) => {
				if (!window.has(t)) return seconds;
				if (variant === 'exponential') return seconds * (1 - scale + random.exponential(scale));
				if (variant === 'two-valued') return seconds * (1 + (random.chance(0.5) ? apart : -apart));
				n++;
				return n % every === 0 ? seconds * (1 + share * every * random.uniform(0.6, 1.4)) : seconds;
			});
		}
		// A clock column tells when the board really sent: its own unevenness is then no jitter of the line.
		return {
			must: variant === 'link' || rig.stream.clock === 'none',
			may: ['stall', 'lost-frames', 'bursty-delivery'].map(code => ({code, channel: null})),
		};
	},
};
