/** Random numbers of a seed: a linear congruential generator of 64 bits (Knuth's MMIX), its upper half used; normal ones by Box and Muller. */
export function seededRandom(seed: number) {
	let state = BigInt.asUintN(64, BigInt(seed) * 0x9e3779b97f4a7c15n + 1n);
	const uniform = (): number => {
		state = BigInt.asUintN(64, state * 6364136223846793005n + 1442695040888963407n);
		return (Number(state >> 33n) + 0.5) / 2 ** 31;
	};
	let spare: number | undefined;
	const normal = (): number => {
		if (spare !== undefined) {
			const value = spare;
			spare = undefined;
			return value;
		}
		const radius = Math.sqrt(-2 * Math.log(uniform()));
		const phase = 2 * Math.PI * uniform();
		spare = radius * Math.sin(phase);
		return radius * Math.cos(phase);
	};
	for (let skip = 0; skip < 8; skip++) uniform();
	return {uniform, normal};
}
