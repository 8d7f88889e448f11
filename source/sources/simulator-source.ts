import {setTimeout as wait} from 'node:timers/promises';
import {playSimulation, type SimulationSpec} from '../simulator/simulate.ts';
import type {Source} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';

type SimulatorSourceOptions = {
	/** Hands items out at the times they carry, as a port would; otherwise as fast as they are taken. */
	readonly paced: boolean;
	readonly signal?: AbortSignal;
	/** As the user sees it. Default `simulator`. */
	readonly name?: string;
	/** Kept in the note of a recording. */
	readonly note?: string;
};

/** Frames per second of pacing: chunks due within this time go out together, seconds. */
const tickSeconds = 0.005;

/** One pause lasts no longer: a timer cannot wait for weeks. */
const longestPauseMs = 60_000;

/** Items handed out at once when nobody waits for the clock. */
const batchSize = 4096;

/** A simulated glove as a source. Without pacing its items and times depend on `spec` alone. */
export function simulatorSource(spec: SimulationSpec, options: SimulatorSourceOptions): Source {
	const stop = new AbortController();
	const signal = options.signal ? AbortSignal.any([options.signal, stop.signal]) : stop.signal;
	const pace = new Pace(signal);
	return {
		info: {
			kind: 'simulator',
			name: options.name ?? 'simulator',
			timing: 'measured',
			baud: spec.declared?.baud === undefined ? spec.link.baud : spec.declared.baud,
			...(options.note === undefined ? {} : {note: options.note}),
		},
		batches: () => (options.paced ? inTime(spec, pace, signal) : fast(spec, signal)),
		close: async () => stop.abort(),
		...(options.paced ? {now: () => pace.now} : {}),
	};
}

async function* fast(spec: SimulationSpec, signal: AbortSignal): AsyncGenerator<readonly SourceItem[]> {
	let batch: SourceItem[] = [];
	for (const ready of playSimulation(spec)) {
		for (const item of ready) batch.push(item);
		if (batch.length < batchSize) continue;
		yield batch;
		batch = [];
		if (signal.aborted) return;
	}
	if (batch.length > 0) yield batch;
}

async function* inTime(spec: SimulationSpec, pace: Pace, signal: AbortSignal): AsyncGenerator<readonly SourceItem[]> {
	pace.start();
	let due: SourceItem[] = [];
	for (const ready of playSimulation(spec)) {
		for (const item of ready) {
			if (item.t > pace.now + tickSeconds) {
				if (due.length > 0) yield due;
				due = [];
				await pace.reach(item.t, tickSeconds / 2);
			}
			if (signal.aborted) return;
			due.push(item);
		}
	}
	if (due.length > 0) yield due;
	// A glove that falls silent is still plugged in.
	await pace.reach(spec.durationSeconds);
}

/** Seconds since the start, and waiting for a time among them; a signal ends every wait. */
class Pace {
	readonly #signal: AbortSignal;
	#startedAtMs: number | undefined;

	constructor(signal: AbortSignal) {
		this.#signal = signal;
	}

	/** 0 before the start. */
	get now(): number {
		return this.#startedAtMs === undefined ? 0 : (performance.now() - this.#startedAtMs) / 1000;
	}

	start(): void {
		this.#startedAtMs = performance.now();
	}

	/** Waits for a time; it is reached so many seconds before. */
	async reach(t: number, slackSeconds = 0): Promise<void> {
		while (!this.#signal.aborted && this.now < t - slackSeconds) {
			const ms = Math.min(longestPauseMs, Math.max(1, 1000 * (t - this.now)));
			await wait(ms, undefined, {signal: this.#signal}).catch(() => undefined);
		}
	}
}
