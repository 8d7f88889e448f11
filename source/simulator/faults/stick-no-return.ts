import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** The stick's springs leave it anywhere near the middle. */
export const stickNoReturn: FaultModel = {
	code: 'stick-no-return',
	scope: 'stick',
	variants: ['weak-spring'],
	install(rig, fault) {
		const {random, severity, window, index, channel} = fault;
		const node = rig.channels[index];
		// As a standard deviation the definition's 6 % is surely met, as a range the 2 % surely kept (± 0.9 %). At the worst
		// it still comes to lie in the middle quarter, where the definition takes it for let go (an eighth to either side).
		const scatter = graded(severity, {mustNot: 0.0075, must: 0.06, gross: 0.078}, 0.12) / node.gain;
		let pushed = false;
		let side = random.chance(0.5) ? 1 : -1;
		let offset = 0;
		node.track.push((t, track) => {
			const x = rig.motion.stickX(t);
			const y = rig.motion.stickY(t);
			const throwShare = Math.min(1, Math.hypot(x, y));
			if (throwShare > 0.3) {
				pushed = true;
			} else if (pushed && throwShare < 0.25) {
				pushed = false;
				// Alternating more often than not, so that a handful of releases already scatters as much.
				side = random.chance(0.85) ? -side : side;
				offset = side * scatter * random.uniform(0.95, 1.3);
			}
			if (!window.has(t)) return track;
			return track + offset * (1 - throwShare);
		});
		return {may: ['stick-off-centre', 'baseline-drift'].map(code => ({code, channel}))};
	},
};
