import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';

/** A worn contact that opens again just after it closed, or closes again after it opened (check-values B1–B4). */
export const buttonBounce: FaultModel = {
	code: 'button-bounce',
	scope: 'button',
	variants: ['press', 'press-and-release'],
	install(rig, fault) {
		const {random, severity, window, index, variant} = fault;
		const frame = rig.frameSeconds;
		const share = Math.min(1, graded(severity, {mustNot: 0.01, must: 0.2, gross: 0.95}, 0.2));
		let owed = random.uniform(0.4, 0.9);
		let last: number | undefined;
		/** Stretches after the edge in which the contact shows the other state, seconds. */
		let gaps: [from: number, to: number][] = [];
		let edgeAt = 0;
		const draw = (t: number): void => {
			owed += share;
			gaps = [];
			if (owed < 1) return;
			owed -= 1;
			// Every extra edge lasts a whole frame, so that the stream can show it, and all within 22 ms.
			let at = frame * random.uniform(1.1, 1.6);
			do {
				const open = Math.max(frame * 1.1, random.uniform(0.001, 0.006));
				if (at + open > 0.022) break;
				gaps.push([at, at + open]);
				at += open + Math.max(frame * 1.1, random.uniform(0.001, 0.006));
			} while (random.chance(0.4));
			if (gaps.length > 0) fault.acts(t);
		};
		rig.buttons[index].push((t, level, pressedFor) => {
			if (severity <= -1 || !window.has(t)) return level;
			if (pressedFor !== undefined && (last === undefined || pressedFor < last)) {
				edgeAt = t - pressedFor;
				draw(t);
			} else if (pressedFor === undefined && last !== undefined && variant === 'press-and-release') {
				edgeAt = t;
				draw(t);
			}
			last = pressedFor;
			const since = t - edgeAt;
			for (const [from, to] of gaps) if (since >= from && since < to) return 1 - level;
			return level;
		});
		return {must: rig.stream.rate >= 150};
	},
};
