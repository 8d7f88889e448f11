/** Back at the first mark, and out at the far one, within this share of the whole way. */
const nearShare = 0.2;

/** How many ways out and back these stays are, of a cord that is pulled along a ruler; a way that is under way is none. */
export function waysAlong(levels: readonly number[]): number {
	const first = levels[0];
	const most = Math.max(0, ...levels.map(level => Math.abs(level - first)));
	let ways = 0;
	let isOut = false;
	for (const level of levels) {
		const way = Math.abs(level - first);
		if (way >= (1 - nearShare) * most) isOut = most > 0;
		else if (isOut && way <= nearShare * most) {
			ways++;
			isOut = false;
		}
	}

	return ways;
}

/** The mark that the last of these stays is at, counted from 0: one up on the way out, one down on the way back. */
export function markAlong(levels: readonly number[]): number {
	const first = levels[0];
	const farthest = levels.reduce(
		(far, level) => (Math.abs(level - first) > Math.abs(far - first) ? level : far),
		first,
	);
	const out = Math.sign(farthest - first);
	let mark = 0;
	for (let i = 1; i < levels.length; i++) mark += Math.sign(levels[i] - levels[i - 1]) === out ? 1 : -1;
	return Math.max(0, mark);
}
