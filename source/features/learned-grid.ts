/** Rounding in the firmware's own arithmetic (single floats among them), counts. */
const slack = 0.001;

/** How firmware makes whole counts of k·FS/d: cut off, cut off from the other end (a flipped channel), or rounded. */
export const roundings = ['down', 'up', 'nearest'] as const;
export type Rounding = (typeof roundings)[number];

/**
 * Whether the whole number `value` (0…`fullScale`) is what firmware sends for one of the grid points k·fullScale/d.
 * Each way of rounding allows one number per grid point, where a tolerance of a count either way would allow three.
 */
function isOnGrid(value: number, fullScale: number, d: number, rounding: Rounding): boolean {
	const spacing = fullScale / d;
	if (rounding === 'nearest') {
		const k = Math.round(value / spacing);
		return Math.abs(value - k * spacing) <= 0.5 + slack;
	}
	const fromEnd = rounding === 'down' ? value : fullScale - value;
	// The lowest grid point that is not below; cut off it gives the value if it lies less than one count above.
	const above = Math.ceil((fromEnd - slack) / spacing) * spacing;
	return above - fromEnd <= 1 + slack;
}

/**
 * The smallest number of steps d ≥ `least` such that all `count` numbers lie on the grid k·fullScale/d; `fullScale` where no
 * coarser grid holds them. The numbers are put in another order on the way.
 */
export function smallestGrid(
	values: Float64Array,
	count: number,
	fullScale: number,
	rounding: Rounding,
	least: number,
): number {
	for (let d = Math.max(1, least); d < fullScale; d++) {
		let i = 0;
		while (i < count && isOnGrid(values[i], fullScale, d, rounding)) i++;
		if (i === count) return d;
		// What spoilt this grid is the likeliest to spoil the next.
		const spoiler = values[i];
		values[i] = values[0];
		values[0] = spoiler;
	}
	return fullScale;
}

/**
 * How likely `count` different numbers lie on a grid of at most `d` steps by chance: a grid of i steps has about i of the
 * `fullScale` numbers, under each of the three roundings.
 */
export function chanceOfGrid(count: number, d: number, fullScale: number): number {
	let sum = 0;
	for (let i = 1; i <= d; i++) sum += (i / fullScale) ** count;
	return Math.min(1, roundings.length * sum);
}
