/**
 * A systematic sample: from a start drawn with `seed`, each place as many places after the one before, so that every file has
 * its share and every place the same chance. `places` in the order of files and lines; all of them where there are no more
 * than `count`.
 */
export function draw(places, count, seed) {
	const step = Math.max(1, places.length / count);
	const start = step * fraction(seed);
	return Array.from(
		{length: Math.min(count, places.length)},
		(_, i) => places[Math.floor(start + i * step) % places.length],
	);
}

/** A number from 0 to below 1 for a whole one: one step of mulberry32. */
function fraction(seed) {
	let state = (seed + 0x6d2b79f5) | 0;
	state = Math.imul(state ^ (state >>> 15), state | 1);
	state ^= state + Math.imul(state ^ (state >>> 7), state | 61);
	return ((state ^ (state >>> 14)) >>> 0) / 2 ** 32;
}
