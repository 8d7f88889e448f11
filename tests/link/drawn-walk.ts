import {LinkAccountant} from '../../source/link/link-account.ts';
import {mulberry} from '../math/mulberry.ts';
import {linkLayout} from './link-layout.ts';

/** Clocks of the board that are slow by so many millionths (specification C). */
export const skews = [0, 5000, -3000] as const;

export type DelayErrors = {
	readonly skewOffPpm: number;
	/** Of single frames. */
	readonly medianMs: number;
	readonly p95Ms: number;
	/** Of the 95th percentile of each 50 s. */
	readonly windowsMs: readonly number[];
	/** That percentile itself, least and most. */
	readonly trueMs: readonly [number, number];
};

/**
 * Specification C's trial: 300 s at 60/s with a clock of 1 ms, delays as generator W draws them, a third of them longer where
 * the walk is far away; against the delays as they were drawn.
 */
export function delayErrors(skew: number, seed: number): DelayErrors {
	const draw = mulberry(seed);
	const account = new LinkAccountant({windowSeconds: 50, isTimed: true});
	account.layout(linkLayout);
	const truth: number[] = [];
	const arrivals: number[] = [];
	let last = 0;
	for (let n = 0; n < 18_000; n++) {
		const t = n / 60;
		const p = 0.0005 * Math.exp((1 + 19 * (1 - Math.abs(t - 150) / 150)) / 3.2);
		let way = 0.008 - 0.004 * Math.log(1 - draw());
		if (draw() < 2 * p) way += 0.08 * draw();
		// A board's clock that is slow by so many millionths: arrivals run away from it.
		const arrival = Math.max(t * (1 + skew / 1e6) + way, last + 0.0002);
		last = arrival;
		arrivals.push(arrival);
		truth.push(1000 * (arrival - t * (1 + skew / 1e6)));
		account.frame(arrival, Float64Array.of(n, Math.floor(t * 1000), 1, 1, 1, 1, 1, 0));
	}

	const {skewPpm, windows, delaySeconds} = account.account(last);
	const best = Math.min(...truth);
	const errors = truth.map((ms, i) => Math.abs(1000 * delaySeconds![i] - (ms - best)));
	const p95s = windows.slice(0, 6).map(({from, to}) =>
		quantile(
			truth.filter((_, i) => arrivals[i] >= from && arrivals[i] < to).map(ms => ms - best),
			0.95,
		),
	);
	return {
		skewOffPpm: skewPpm! - skew,
		medianMs: quantile(errors, 0.5),
		p95Ms: quantile(errors, 0.95),
		windowsMs: p95s.map((p95, i) => Math.abs(windows[i].delayMs!.p95 - p95)),
		trueMs: [Math.min(...p95s), Math.max(...p95s)],
	};
}

export function quantile(values: readonly number[], share: number): number {
	const sorted = [...values].sort((a, b) => a - b);
	return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}
