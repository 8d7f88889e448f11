import type {Finding} from '../../session/snapshot.ts';

/**
 * Stretches of a finding as places on an axis, `[left, width]`, at least two units wide. Stretches that would touch are
 * drawn as one, so that what is drawn is bounded by the width of the chart and not by how often a fault came and went.
 */
export function drawnSpans(
	spans: Finding['spans'],
	seconds: number,
	place: (t: number) => number,
): (readonly [left: number, width: number])[] {
	const drawn: [number, number][] = [];
	for (const [from, to] of spans) {
		const left = place(Math.min(from, seconds));
		const width = Math.max(2, place(Math.min(to ?? seconds, seconds)) - left);
		const last = drawn[drawn.length - 1];
		if (last && left - (last[0] + last[1]) < 1) last[1] = Math.max(last[1], left + width - last[0]);
		else drawn.push([left, width]);
	}

	return drawn;
}
