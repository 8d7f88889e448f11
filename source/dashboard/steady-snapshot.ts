import type {ChannelView, LinkView, Snapshot, StickView} from '../session/snapshot.ts';

/** Less travel than this share of full scale within half a second is noise or a trembling bench, not a pulled cord. */
const movingShare = 0.02;

/** One count is what a converter flickers by. */
const leastBandCounts = 1;

/** Two readings of a resting channel differ by √2 of its rms noise, rarely by three times that (0.3 % of a normal distribution). */
const noiseBands = 3 * Math.SQRT2;

/** The time is shown in whole seconds. */
const timeStepSeconds = 1;

/**
 * A snapshot for the eye: figures that differ from what is shown by no more than noise stay as shown. A resting
 * channel's reading is held while it is within its noise, a rate within 1 %, jitter and intervals within 10 %. Whatever
 * moves comes through as it is, and so does everything a finding rests on.
 */
export function steadySnapshot(shown: Snapshot | undefined, next: Snapshot): Snapshot {
	const t = Math.floor(next.t / timeStepSeconds) * timeStepSeconds;
	if (shown === undefined || shown.layout !== next.layout || t < shown.t) return changed(next, {t});
	return changed(next, {
		t,
		channels: next.channels.map((channel, index) => steadyChannel(shown.channels[index], channel)),
		link: steadyLink(shown.link, next.link),
		stick: steadyStick(shown.stick, next.stick),
	});
}

/** A copy with some parts changed; what is worked out only when asked for, as the checks are, is not worked out for it. */
export function changed(snapshot: Snapshot, parts: Partial<Snapshot>): Snapshot {
	const descriptors = {...Object.getOwnPropertyDescriptors(snapshot), ...Object.getOwnPropertyDescriptors(parts)};
	return Object.defineProperties({}, descriptors) as Snapshot;
}

function steadyChannel(shown: ChannelView | undefined, next: ChannelView): ChannelView {
	if (shown === undefined || shown.name !== next.name || next.moving || next.button !== null) return next;
	// Travel of less than a moved channel's is noise; nothing shows it.
	const activity = next.activity < movingShare ? 0 : next.activity;
	const band = Math.max(leastBandCounts, noiseBands * (next.restNoise ?? 0));
	return {
		...next,
		activity,
		mean: shown.mean,
		now: Math.abs(next.now - shown.now) <= band ? shown.now : next.now,
		restNoise: held(shown.restNoise, next.restNoise, 0.1),
	};
}

/** The rest point is an average over all rests, and creeps. */
function steadyStick(shown: StickView | null, next: StickView | null): StickView | null {
	if (shown === null || next === null) return next;
	const nearBy = (a: number | null, b: number | null) =>
		a !== null && b !== null && Math.abs(b - a) <= leastBandCounts ? a : b;
	return {
		...next,
		restX: nearBy(shown.restX, next.restX),
		restY: nearBy(shown.restY, next.restY),
		deadZone: nearBy(shown.deadZone, next.deadZone),
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
