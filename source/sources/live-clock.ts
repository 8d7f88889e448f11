/** Seconds since some start, never falling. */
export type LiveClock = () => number;

/**
 * Starts a monotonic clock at zero. Readings are whole microseconds, which a recording writes in full, so that a replay
 * sees exactly the times the live session saw.
 */
export function startClock(): LiveClock {
	const start = process.hrtime.bigint();
	return () => Number((process.hrtime.bigint() - start) / 1000n) / 1e6;
}
