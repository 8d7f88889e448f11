import type {Features} from '../../features/features.ts';

/** Closings and openings of the whole hand in pairs, seen from the finger that has seen the most. */
export function wholeHandCycles({hands}: Features): number {
	let most = 0;
	for (const hand of hands)
		for (const f of hand.fingers) {
			most = Math.max(most, Math.min(hand.movementsSince(f, 0, 1), hand.movementsSince(f, 0, -1)));
		}
	return most;
}

/** The widest span of any finger that is wired, % FS; undefined without a finger that has moved. */
export function widestSpan(features: Features): number | undefined {
	const {spans, trips} = features.analog;
	let widest = Number.NEGATIVE_INFINITY;
	for (const {fingers} of features.hands)
		for (const f of fingers) if (features.isFinger(f) && trips.count[f] > 0) widest = Math.max(widest, spans.of(f));
	return widest === Number.NEGATIVE_INFINITY ? undefined : features.percent(widest);
}
