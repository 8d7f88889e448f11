import type {FaultModel} from '../fault-model.ts';

/** Sender's rate over the receiver's. */
const ratios: Readonly<Record<string, number>> = {
	'quarter-clock': 0.25,
	'half-clock': 0.5,
	'double-clock': 2,
	'quadruple-clock': 4,
	twelfth: 1 / 12,
	third: 1 / 3,
	triple: 3,
	'two-thirds': 2 / 3,
};

/** Sender and receiver work at different rates: a wrong setting, or a board built for another clock (check-values U23, W1). */
export const wrongBaud: FaultModel = {
	code: 'wrong-baud',
	scope: 'link',
	variants: Object.keys(ratios),
	install(rig, fault) {
		const {random, severity, window, variant} = fault;
		const receiverBaud = rig.link.baud ?? 115200;
		// Within the tolerance of a receiver (check-values U9) every byte comes through.
		const ratio = severity < 0 ? 1 + random.uniform(-0.02, 0.02) : ratios[variant];
		rig.senderBaud = receiverBaud * ratio;
		rig.mismatch = {
			receiverBaud,
			framingErrors: random.chance(0.7) ? 'keep' : 'zero',
			has: t => window.has(t),
		};
		return {
			// Heard at half its speed, nine characters in ten still look like text.
			must: rig.link.baud !== null && severity >= 0 && variant !== 'double-clock',
			may: ['broken-frames', 'stray-text', 'slow-frames', 'uneven-frames', 'bursty-delivery', 'line-saturated'].map(
				code => ({code, channel: null}),
			),
		};
	},
};
