import type {FaultModel} from '../fault-model.ts';

/** The board prints as fast as the line takes it: frame times follow the bytes (check-values U1–U5). */
export const lineSaturated: FaultModel = {
	code: 'line-saturated',
	scope: 'link',
	variants: ['paced-by-line'],
	install(rig, fault) {
		const {severity, window} = fault;
		const {baud} = rig.link;
		const load = severity < 0 ? 0.94 + 0.22 * Math.max(-1, severity) : Math.min(1, 0.94 + 0.06 * severity);
		if (baud !== null) {
			rig.interval.push((t, seconds) => (window.has(t) ? (rig.lastFrame.length * 10) / baud / load : seconds));
		}
		return {
			must: baud !== null,
			may: [
				{code: 'slow-frames', channel: null},
				{code: 'uneven-frames', channel: null},
			],
		};
	},
};
