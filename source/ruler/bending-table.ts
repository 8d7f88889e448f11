/** What is looked up: readings at so many even lengths of cord. */
const points = 9;

/** Where less of the finger's range lies along the ruler, most of the table would be made up. */
const leastCovered = 0.8;

/**
 * Nine readings, rising, at even lengths of cord from `low` to `high`: a firmware looks a bending up in them that goes with the cord and
 * not with the track. `curve` is what the ruler gave, mark by mark; beyond its ends its last steps go on. Undefined where it
 * covers less than four fifths of the range, or does not go one way.
 *
 * @example
 * bendingTable([{mm: 0, level: 0}, {mm: 10, level: 100}, {mm: 20, level: 400}], 0, 400)?.[4]; // => 100
 */
export function bendingTable(
	curve: readonly {readonly mm: number; readonly level: number}[],
	low: number,
	high: number,
): number[] | undefined {
	const rising = [...curve].sort((a, b) => a.level - b.level);
	const isOneWay = [curve, [...curve].reverse()].some(way => way.every(({level}, i) => level === rising[i].level));
	if (!isOneWay || rising.length < 2) return undefined;
	const covered = Math.min(high, rising[rising.length - 1].level) - Math.max(low, rising[0].level);
	if (covered < leastCovered * (high - low)) return undefined;
	const [from, to] = [low, high].map(level => along(rising, level, 'level', 'mm'));
	// Of a reading that falls as the cord is pulled the length falls with it: from `low` on all the same.
	const byLength = [...rising].sort((a, b) => a.mm - b.mm);
	return Array.from({length: points}, (_, i) =>
		along(byLength, from + ((to - from) * i) / (points - 1), 'mm', 'level'),
	);
}

/** Between the points of a line that rises along `x`, or along its first and last piece beyond. */
function along(
	line: readonly {readonly mm: number; readonly level: number}[],
	at: number,
	x: 'mm' | 'level',
	y: 'mm' | 'level',
): number {
	let i = 0;
	while (i < line.length - 2 && line[i + 1][x] < at) i++;
	const [one, other] = [line[i], line[i + 1]];
	return one[y] + ((at - one[x]) / (other[x] - one[x])) * (other[y] - one[y]);
}
