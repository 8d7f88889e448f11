import type {FaultModel} from '../fault-model.ts';
import type {Rig} from '../rig.ts';

/**
 * Makes the reel of finger `index` run into the end of its track: `cut` is the share of its ordinary travel beyond the
 * end. `end`: the one reached by closing, or the one at which the hand is open. Returns the change of track position.
 */
export function runIntoEnd(rig: Rig, index: number, cut: number, end: 'closing' | 'open'): (track: number) => number {
	const channel = rig.channels[index];
	const {hand} = rig.glove;
	const relaxed = hand.relaxed[channel.place] ?? 0.03;
	const usual = hand.depth - hand.depthSpread;
	const {direction} = channel.finger!;
	const open = channel.trackOf(channel.cordMm(relaxed));
	const closed = channel.trackOf(channel.cordMm(usual));
	if (end === 'closing') {
		// A smaller spool turns further for the same cord.
		const rail = direction > 0 ? 1 : 0;
		const kept = open + (closed - open) * (1 - cut);
		const factor = (rail - open) / (kept - open);
		return track => open + (track - open) * factor;
	}
	// Mounted turned: the open hand lies before the track's beginning.
	const rail = direction > 0 ? 0 : 1;
	const kept = open + (closed - open) * cut;
	return track => track - kept + rail;
}

/** A reel whose track ends before the finger's travel does, or a stick whose axes rail early (check-values H3). */
export const clippedRange: FaultModel = {
	code: 'clipped-range',
	scope: 'analog',
	variants: ['small-spool', 'turned'],
	install(rig, fault) {
		const {severity, window, index, variant} = fault;
		const channel = rig.channels[index];
		// A closing spends the last tenth of its travel in a quarter of its time (minimum jerk: s(0.75) = 0.896).
		const cut = severity < 0 ? 0.1 + severity * 0.18 : 0.12 + severity * 0.38;
		if (channel.finger) {
			const end = variant === 'turned' ? 'open' : 'closing';
			const change = runIntoEnd(rig, index, cut, end);
			channel.track.push((t, track) => (window.has(t) ? change(track) : track));
			return {must: !rig.scales, may: []};
		}
		const rest = rig.restShare(index);
		const factor = 1 / (1 - Math.max(0, cut));
		channel.track.push((t, track) => (window.has(t) ? rest + (track - rest) * factor : track));
		return {};
	},
};
