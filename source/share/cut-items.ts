import type {SourceItem} from '../stream/source-item.ts';

/** A stretch of a recording, in seconds of its own time. */
export type Span = {readonly from: number; readonly to: number};

/**
 * Detectors are asked four times a second of stream time. A copy that begins on that grid is asked at the same moments
 * as the whole was.
 */
const gridSeconds = 0.25;

/** The last moment of the detectors' grid that is not after `t`, and not before 0. */
export function onGrid(t: number): number {
	return Math.max(0, Math.floor(t / gridSeconds) * gridSeconds);
}

/**
 * The items of a span with times that begin at 0, without what a person wrote: marks go, events lose their details
 * (which name ports). Bytes stay as they are, piece by piece, so that nothing about the link changes.
 *
 * @param items In order of time.
 */
export function cutItems(items: readonly SourceItem[], {from, to}: Span): SourceItem[] {
	const cut: SourceItem[] = [];
	for (const item of items) {
		if (item.t < from || 'mark' in item) continue;
		if (item.t > to) break;
		// Whole microseconds, as recordings keep them.
		const t = Math.round((item.t - from) * 1e6) / 1e6;
		cut.push('bytes' in item ? {t, bytes: item.bytes} : {t, event: item.event});
	}

	return cut;
}
