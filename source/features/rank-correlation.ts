/**
 * Rank correlation of the first `count` values with their order (Spearman's): 1 where each is above the one before, −1
 * where each is below, 0 where they say nothing. Equal values share the mean of their ranks. 0 below two values, and where
 * all are equal. Source: C. Spearman, Amer. J. Psychol. 15 (1904), from memory.
 *
 * @example
 * rankCorrelation([3, 5, 9]); // => 1
 */
export function rankCorrelation(values: ArrayLike<number>, count = values.length): number {
	const order = Array.from({length: count}, (_, i) => i).sort((one, other) => values[one] - values[other]);
	const middle = (count - 1) / 2;
	let [products, squares, squaresOfOrder] = [0, 0, 0];
	for (let i = 0; i < count; ) {
		let j = i + 1;
		while (j < count && values[order[j]] === values[order[i]]) j++;
		const rank = (i + j - 1) / 2 - middle;
		for (let k = i; k < j; k++) products += rank * (order[k] - middle);
		squares += (j - i) * rank * rank;
		i = j;
	}
	for (let i = 0; i < count; i++) squaresOfOrder += (i - middle) ** 2;
	return squares > 0 ? products / Math.sqrt(squares * squaresOfOrder) : 0;
}
