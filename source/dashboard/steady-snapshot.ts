import type {ChannelView, LinkView, Snapshot} from '../session/snapshot.ts';

/** Half a count is rounding; one count is what a converter flickers by. */
const leastBandCounts = 1;

/** Readings of a resting channel lie within three times its rms noise (99.7 % of a normal distribution). */
const noiseBands = 3;

/**
 * A snapshot for the eye: figures that differ from what is shown by no more than noise stay as shown. A resting
 * channel's reading is held while it is within its noise, a rate within 1 %, jitter and intervals within 10 %. Whatever
 * moves comes through as it is, and so does everything a finding rests on.
 */
export function steadySnapshot(shown: Snapshot | undefined, next: Snapshot): Snapshot {
	if (shown === undefined || shown.layout !== next.layout || next.t < shown.t) return next;
	return {
		...next,
		channels: next.channels.map((channel, index) => steadyChannel(shown.channels[index], channel)),
		link: steadyLink(shown.link, next.link),
	};
}

function steadyChannel(shown: ChannelView | undefined, next: ChannelView): ChannelView {
	if (shown === undefined || shown.name !== next.name || next.moving || next.button !== null) return next;
	const band = Math.max(leastBandCounts, noiseBands * (next.restNoise ?? 0));
	return {
		...next,
		now: Math.abs(next.now - shown.now) <= band ? shown.now : next.now,
		restNoise: held(shown.restNoise, next.restNoise, 0.1),
	};
}

function steadyLink(shown: LinkView, next: LinkView): LinkView {
	return {
		...next,
		framesPerSecond: held(shown.framesPerSecond, next.framesPerSecond, 0.01),
		recentFramesPerSecond: held(shown.recentFramesPerSecond, next.recentFramesPerSecond, 0.01),
		jitterMs: held(shown.jitterMs, next.jitterMs, 0.1),
		lineLoad: held(shown.lineLoad, next.lineLoad, 0.02),
		bytesPerSecond: held(shown.bytesPerSecond, next.bytesPerSecond, 0.02),
	};
}

/** The shown value while the next differs by no more than a share of it. */
function held(shown: number | null, next: number | null, share: number): number | null {
	if (shown === null || next === null) return next;
	return Math.abs(next - shown) <= Math.abs(shown) * share ? shown : next;
}
