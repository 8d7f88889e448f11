import type {FaultModel, FaultSetting} from '../fault-model.ts';
import {Wander} from '../random.ts';
import type {Rig} from '../rig.ts';

/**
 * Share of full scale that the converter's noise alone spans: 6.6 standard deviations hold 99.9 % (check-values N5), and one
 * step for rounding.
 */
function noiseRange(rig: Rig, index: number): number {
	const {board, firmware} = rig.glove;
	if (firmware.kind === 'filtered') return 0;
	return 6.6 * rig.noiseShare * rig.channels[index].gain + 0.5 / 2 ** board.adcBits;
}

/** Puts a channel at a fixed voltage, with what leaks past it. `leak`: rms of slow leakage, share of the reference. */
function hold(rig: Rig, fault: FaultSetting, level: number, leak: number): void {
	const {index, window, random, severity} = fault;
	if (severity <= -1) return;
	const leakage = new Wander(random.fork('leak'), leak, 2);
	rig.channels[index].volts.push((t, volts) => (window.has(t) ? level + (leak > 0 ? leakage.at(t) : 0) : volts));
}

/** A wire that fails for a few seconds may do so while the hand has not moved twice. */
function longEnough(fault: FaultSetting): boolean {
	return fault.window.spans.some(([from, to]) => to - from >= 15);
}

/** Supply leg open or wiper shorted to ground: about 0 at every angle (check-values P12, P15). */
export const stuckLow: FaultModel = {
	code: 'stuck-low',
	scope: 'analog',
	variants: ['supply-open', 'shorted-to-ground'],
	install(rig, fault) {
		const {random, variant, channel} = fault;
		const level = variant === 'shorted-to-ground' ? 0 : random.uniform(0, 0.004);
		hold(rig, fault, level, 0);
		return {
			must:
				longEnough(fault) && (noiseRange(rig, fault.index) <= 0.003 || level === 0 || rig.glove.board.deadLow > 0.01),
			may: [{code: 'clipped-range', channel}],
		};
	},
};

/** Ground leg open or wiper shorted to the supply: about full scale at every angle (check-values P11, P14). */
export const stuckHigh: FaultModel = {
	code: 'stuck-high',
	scope: 'analog',
	variants: ['ground-open', 'shorted-to-supply', 'rail-flicker'],
	install(rig, fault) {
		const {random, variant, channel} = fault;
		const level = variant === 'shorted-to-supply' ? 1 : random.uniform(0.9965, 0.9995);
		hold(rig, fault, level, variant === 'rail-flicker' ? 0.0018 : 0);
		const quiet = noiseRange(rig, fault.index) <= 0.003 || level === 1 || rig.glove.board.deadHigh > 0.01;
		// Flicker of 1017…1023 spans 0.6 % of full scale, twice what the definition asks for.
		return {
			must: longEnough(fault) && quiet && variant !== 'rail-flicker',
			may: ['clipped-range', 'stick-off-centre', 'stick-short-throw'].map(code => ({code, channel})),
		};
	},
};

/** Cord off its spool or wiper jammed: the potentiometer is sound and does not turn. */
export const stuckMid: FaultModel = {
	code: 'stuck-mid',
	scope: 'analog',
	variants: ['cord-off', 'jammed'],
	install(rig, fault) {
		const {random, index, channel} = fault;
		const node = rig.channels[index];
		const rest = rig.restShare(index);
		const away = rig.spanShare(index) * random.uniform(0.1, 0.9);
		const level = node.finger ? rest + node.finger.direction * away : random.uniform(0.1, 0.9);
		if (fault.variant === 'jammed' && fault.severity > -1) {
			// Stays where it was when it jammed, which may be the open hand.
			let kept = Number.NaN;
			node.volts.push((t, volts) => {
				if (!fault.window.has(t)) {
					kept = Number.NaN;
					return volts;
				}
				if (Number.isNaN(kept)) kept = volts;
				return kept;
			});
		} else {
			hold(rig, fault, level, 0);
		}
		const near = node.outputShare(rest);
		return {
			must:
				longEnough(fault) &&
				noiseRange(rig, index) <= 0.003 &&
				(fault.variant === 'cord-off' || (near > 0.02 && near < 0.98)),
			may: ['narrow-span', 'dropout'].map(code => ({code, channel})),
		};
	},
};
