/**
 * Running mean and sample variance of one channel.
 *
 * Readings are raw counts, so `variance` is counts². Below two readings it is `undefined`, never 0. A non-finite
 * reading only adds one to `rejected`. Constant time; nothing is allocated per reading.
 *
 * Source: B. P. Welford, Technometrics 4 (1962), 419–420; `merge` after Chan, Golub and LeVeque (1979).
 *
 * @example
 * const moments = new RunningMoments();
 * for (const counts of [2, 4, 9]) moments.add(counts);
 * moments.variance; // => 13
 */
export class RunningMoments {
	count = 0;
	rejected = 0;
	mean = 0;
	/** Sum of squared deviations from the mean. */
	deviations = 0;

	add(reading: number): void {
		if (!Number.isFinite(reading)) {
			this.rejected++;
			return;
		}
		this.count++;
		const delta = reading - this.mean;
		this.mean += delta / this.count;
		this.deviations += delta * (reading - this.mean);
	}

	/** Takes in a whole group of readings by its own count, mean and sum of squared deviations. */
	merge(count: number, mean: number, deviations: number): void {
		if (count === 0) return;
		const total = this.count + count;
		const delta = mean - this.mean;
		this.mean += (delta * count) / total;
		this.deviations += deviations + (delta * delta * this.count * count) / total;
		this.count = total;
	}

	get variance(): number | undefined {
		return this.count < 2 ? undefined : this.deviations / (this.count - 1);
	}
}
