/**
 * Chance of at least `least` hits among `tries` independent tries that each hit with chance `each` (0…1): the upper tail of
 * the binomial distribution. 1 for `least` ≤ 0, 0 where there are fewer tries than that. Cost grows with `tries`.
 */
export function binomialTail(tries: number, least: number, each: number): number {
	if (least <= 0) return 1;
	if (each >= 1) return tries >= least ? 1 : 0;
	let term = (1 - each) ** tries;
	let below = 0;
	for (let hits = 0; hits < Math.min(least, tries + 1); hits++) {
		below += term;
		term *= ((tries - hits) / (hits + 1)) * (each / (1 - each));
	}
	return Math.max(0, 1 - below);
}
