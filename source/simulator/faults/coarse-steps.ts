import type {FaultModel} from '../fault-model.ts';

/** Readings shifted or divided and multiplied again, or an integer type too narrow: few levels are left. */
export const coarseSteps: FaultModel = {
	code: 'coarse-steps',
	scope: 'analog',
	variants: ['shifted', 'offset'],
	install(rig, fault) {
		const {random, severity, window, index, variant, channel} = fault;
		const {outputFullScale, decimals, kind} = rig.glove.firmware;
		const gross = (outputFullScale + 1) / 4;
		const step = Math.round(
			severity < 0 ? 8 ** (1 + Math.max(-1, severity)) : 8 * (gross / 8) ** Math.min(1, severity),
		);
		const offset = variant === 'offset' ? random.integer(0, step - 1) : 0;
		rig.channels[index].output.push((t, sent) =>
			window.has(t) ? Math.max(0, Math.floor((sent - offset) / step) * step + offset) : sent,
		);
		return {
			must: decimals === 0 && (kind === 'raw' || rig.scales || kind === 'filtered') && outputFullScale >= 255,
			may: ['narrow-span', 'stuck-mid', 'stuck-low', 'dropout', 'excess-noise'].map(code => ({code, channel})),
		};
	},
};
