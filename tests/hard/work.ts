/** Milliseconds of processor time that `job` takes: the least of `tries`, so that what else runs counts for little. */
export async function costOf(job: () => unknown, tries = 2): Promise<number> {
	let least = Number.POSITIVE_INFINITY;
	for (let attempt = 0; attempt < tries; attempt++) {
		const before = process.cpuUsage();
		await job();
		const {user, system} = process.cpuUsage(before);
		least = Math.min(least, (user + system) / 1000);
	}

	return least;
}

/** Below so much, clocks and compilers decide. */
const leastMs = 15;

/** A ratio that may be other programs' doing: measured again before it is believed. */
const suspicious = 6;

/**
 * How many times as much work the second job is. Linear work on n times as much input gives n, quadratic n²: the tests
 * set their limits between the two, far from both.
 */
export async function growth(small: () => unknown, large: () => unknown): Promise<number> {
	// Once for the compiler.
	await small();
	const base = Math.max(leastMs, await costOf(small));
	const first = (await costOf(large, 1)) / base;
	return first < suspicious ? first : Math.min(first, (await costOf(large)) / base);
}
