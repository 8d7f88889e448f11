/**
 * The value that an F-distributed number stays below with a chance of `share`: degrees of freedom `above` and `below`
 * of the variances divided. By halving: the distribution function has no inverse in closed form.
 *
 * Source: NIST/SEMATECH e-Handbook 1.3.6.6.5 (F distribution); DLMF 8.17.22 (continued fraction of the incomplete beta
 * function).
 */
export function fQuantile(share: number, above: number, below: number): number {
	let low = 0;
	let high = 1;
	while (fBelow(high, above, below) < share && high < 1e9) high *= 2;
	for (let step = 0; step < 80; step++) {
		const middle = (low + high) / 2;
		if (fBelow(middle, above, below) < share) low = middle;
		else high = middle;
	}
	return (low + high) / 2;
}

/** The chance that an F-distributed number is below `value`. */
function fBelow(value: number, above: number, below: number): number {
	const x = (above * value) / (above * value + below);
	return betaShare(x, above / 2, below / 2);
}

/** The regularised incomplete beta function I_x(a, b). */
function betaShare(x: number, a: number, b: number): number {
	if (x <= 0) return 0;
	if (x >= 1) return 1;
	// The fraction converges fast below the mean; I_x(a, b) = 1 − I_{1−x}(b, a) (DLMF 8.17.4).
	if (x > (a + 1) / (a + b + 2)) return 1 - betaShare(1 - x, b, a);
	const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x)) / a;
	return front / betaFraction(x, a, b);
}

/** 1 + d1/(1 + d2/(1 + …)), from the back: 200 terms are far more than a and b below 1000 need. */
function betaFraction(x: number, a: number, b: number): number {
	let value = 1;
	for (let term = 200; term >= 1; term--) {
		const m = term >> 1;
		const d =
			term % 2 === 0
				? (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
				: (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
		value = 1 + d / value;
	}
	return value;
}

/** ln Γ of half and whole numbers from 1/2 on, which is all that degrees of freedom give: Γ(x + 1) = x Γ(x). */
function logGamma(x: number): number {
	let sum = 0;
	let rest = x;
	for (; rest > 1; rest--) sum += Math.log(rest - 1);
	return sum + (rest === 0.5 ? Math.log(Math.PI) / 2 : 0);
}
