import type {FaultModel} from '../fault-model.ts';
import {Wander} from '../random.ts';
import {drawHum} from './hum.ts';

/** No pull-up: the open pin toggles on pickup; pressing it still gives a solid level (check-values S4, A8). */
export const buttonFloating: FaultModel = {
	code: 'button-floating',
	scope: 'button',
	variants: ['random', 'hum'],
	install(rig, fault) {
		const {random, severity, window, index, variant} = fault;
		const rate = rig.stream.rate;
		// 40 edges in 5 s; and a median dwell of two frames or less needs a flip in at least 0.293 of the frames.
		const flip = Math.min(0.9, Math.max(0.36, 9.5 / rate) + 0.35 * Math.max(0, Math.min(1, severity)));
		const hum = drawHum(random, 0.3);
		const drift = new Wander(random.fork('drift'), 0.25, 1.5);
		const noise = 0.5;
		let state = random.integer(0, 1);
		rig.buttons[index].push((t, level, pressedFor) => {
			if (severity <= -1 || !window.has(t) || pressedFor !== undefined) return level;
			if (variant === 'hum') {
				state = hum.at(t) + drift.at(t) + random.normal(0, noise) > 0 ? 1 : 0;
			} else if (random.chance(flip)) {
				state = 1 - state;
			}
			return state;
		});
		const channel = fault.channel;
		return {
			must: rate >= 25 && variant === 'random',
			may: [
				{code: 'button-bounce', channel},
				{code: 'button-held', channel},
			],
		};
	},
};
