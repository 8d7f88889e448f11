import type {FaultSetting} from '../fault-model.ts';
import type {Rig} from '../rig.ts';

/** Moments inside the fault's stretches, `gap` seconds apart on average, the first soon after each beginning; none in the last `tail` seconds. */
export function timesWithin(rig: Rig, fault: FaultSetting, gap: number, tail: number): number[] {
	const {random, window} = fault;
	const times: number[] = [];
	// An endless stream gets an evening of them.
	const horizon = Math.min(rig.durationSeconds, 14_400);
	for (const [from, to] of window.spans) {
		const end = Math.min(to, horizon - tail);
		let t = from + Math.min(gap * 0.3, Math.max(0, end - from) * 0.2) * random.uniform(0.3, 1);
		while (t < end) {
			times.push(t);
			t += gap * random.uniform(0.6, 1.4);
		}
	}
	return times;
}
