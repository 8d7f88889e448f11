import type {FaultModel} from '../fault-model.ts';

/** Frames come in clumps: a radio link that collects, or a bridge chip's latency timer (check-values U13–U17). */
export const burstyDelivery: FaultModel = {
	code: 'bursty-delivery',
	scope: 'link',
	variants: ['radio', 'latency-timer'],
	install(rig, fault) {
		const {random, severity, window, variant} = fault;
		const frame = rig.frameSeconds;
		if (variant === 'latency-timer' && severity >= 0) {
			rig.delivery.delivery = 'poll';
			rig.delivery.pollMs = Math.max(16, severity * 40);
			const together = rig.delivery.pollMs / 1000 / frame;
			// A packet's worth of bytes is sent before the timer runs out, and splits the clumps.
			const bytes = rig.stream.rate * (rig.delivery.pollMs / 1000) * 24;
			return {
				must: together >= 3.6 && (rig.link.packetBytes === 0 || bytes < 62),
				may: [{code: 'uneven-frames', channel: null}],
			};
		}
		// Share of the frames that come in clumps of four and more; the definition asks for 60 % in threes.
		const share = severity < 0 ? 0.5 * (1 + Math.max(-1, severity)) : Math.min(1, 0.68 + 0.4 * severity);
		const size = 4 + Math.max(0, severity) * random.uniform(2, 22);
		let release = Number.NEGATIVE_INFINITY;
		let singlesUntil = Number.NEGATIVE_INFINITY;
		let released = 0;
		if (severity > -1) {
			rig.delivery.hooks.push(t => {
				if (!window.has(t)) return t;
				if (t <= release) return release + frame * 0.01 * Math.min(5, released++);
				if (t < singlesUntil) return t;
				const held = Math.max(4, Math.round(size * random.uniform(0.75, 1.3)));
				release = t + (held - 0.5) * frame;
				singlesUntil = release + held * frame * ((1 - share) / share);
				released = 1;
				return release;
			});
		}
		return {
			may: [
				{code: 'uneven-frames', channel: null},
				{code: 'stall', channel: null},
			],
		};
	},
};
