import type {BootReason} from '../boot-text.ts';
import type {FaultModel} from '../fault-model.ts';
import {timesWithin} from './times-within.ts';

/** The board starts again: supply sag, watchdog, crash or a loose plug (check-values S14–S18). */
export const deviceRestart: FaultModel = {
	code: 'device-restart',
	scope: 'link',
	variants: ['power', 'brown-out', 'watchdog', 'panic'],
	install(rig, fault) {
		const {random, severity, variant} = fault;
		const gap = Math.max(4, 30 - 26 * Math.max(0, Math.min(1, severity)));
		const {board} = rig.glove;
		const times = severity <= -1 ? [] : timesWithin(rig, fault, gap, board.bootSeconds * 1.5 + 2);
		const {counter, clock} = rig.stream;
		// A counter of one byte falls back to zero several times a second anyway.
		const counted = counter >= 65536 || clock !== 'none';
		const speaks = board.bootText !== 'none' && (!counted || random.chance(0.7));
		for (const t of times) {
			rig.at(t, now => {
				// The frame being written is cut off.
				if (random.chance(0.7)) rig.write(rig.lastFrame.subarray(0, random.integer(0, rig.lastFrame.length - 1)));
				rig.pauseSeconds += rig.restart(now, variant as BootReason, random, speaks);
			});
		}
		const text =
			speaks && board.bootText === 'esp32' && (rig.stream.framing === 'text' || rig.stream.framing === 'json');
		return {
			must: times.length > 0 && (counted || text),
			from: times[0],
			may: [
				'stray-text',
				'stall',
				'broken-frames',
				'lost-frames',
				...(variant === 'brown-out' ? ['supply-ripple'] : []),
			].map(code => ({code, channel: null})),
		};
	},
};
