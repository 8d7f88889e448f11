/**
 * Rank correlation of the first `count` values with their order (Spearman's): 1 where each is above the one before, −1
 * where each is below, 0 where they say nothing. Equal values share the mean of their ranks. 0 below two values, and where
 * all are equal. Source: C. Spearman, Amer. J. Psychol. 15 (1904), from memory.
 *
 * @example
 * rankCorrelation([3, 5, 9]); // => 1
 */
export function rankCorrelation(values: ArrayLike<number>, count = values.length): number {
	const sorted = new Float64Array(count);
	for (let i = 0; i < count; i++) sorted[i] = values[i];
	sorted.sort();
	const middle = (count - 1) / 2;
	// Ranks are whole or half numbers, so that all sums are exact in any order.
	let products = 0;
	let squares = 0;
	let squaresOfOrder = 0;
	for (let i = 0; i < count; i++) {
		const rank = (placeOf(sorted, values[i], false) + placeOf(sorted, values[i], true) - 1) / 2 - middle;
		products += rank * (i - middle);
		squares += rank * rank;
		squaresOfOrder += (i - middle) ** 2;
	}
	return squares > 0 ? products / Math.sqrt(squares * squaresOfOrder) : 0;
}

/** How many of the sorted values lie below one, or not above it. */
function placeOf(sorted: Float64Array, value: number, alsoEqual: boolean): number {
	let from = 0;
	let to = sorted.length;
	while (from < to) {
		const half = (from + to) >> 1;
		if (sorted[half] < value || (alsoEqual && sorted[half] === value)) from = half + 1;
		else to = half;
	}
	return from;
}
