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

/** Items handed out at once when nobody waits for the clock. */
const batchSize = 4096;

/** A simulated glove as a source. Without pacing its items and times depend on `spec` alone. */
export function simulatorSource(spec: SimulationSpec, options: SimulatorSourceOptions): Source {
	const {paced, signal} = options;
	const stop = new AbortController();
	const stopped = (): boolean => stop.signal.aborted || signal?.aborted === true;
	let startedAtMs: number | undefined;
	const now = (): number => (startedAtMs === undefined ? 0 : (performance.now() - startedAtMs) / 1000);

	async function* fast(): AsyncGenerator<readonly SourceItem[]> {
		let batch: SourceItem[] = [];
		for (const ready of playSimulation(spec)) {
			for (const item of ready) batch.push(item);
			if (batch.length < batchSize) continue;
			yield batch;
			batch = [];
			if (stopped()) return;
		}
		if (batch.length > 0) yield batch;
	}

	async function* inTime(): AsyncGenerator<readonly SourceItem[]> {
		startedAtMs = performance.now();
		const either = signal ? AbortSignal.any([signal, stop.signal]) : stop.signal;
		const pause = (seconds: number): Promise<void> =>
			wait(Math.max(1, seconds * 1000), undefined, {signal: either}).catch(() => undefined);
		let due: SourceItem[] = [];
		for (const ready of playSimulation(spec)) {
			for (const item of ready) {
				if (item.t > now() + tickSeconds) {
					if (due.length > 0) yield due;
					due = [];
					while (!stopped() && item.t > now() + tickSeconds / 2) await pause(item.t - now());
				}
				if (stopped()) return;
				due.push(item);
			}
		}
		if (due.length > 0) yield due;
		// A glove that falls silent is still plugged in.
		while (!stopped() && now() < spec.durationSeconds) await pause(Math.min(0.5, spec.durationSeconds - now()));
	}

	return {
		info: {
			kind: 'simulator',
			name: options.name ?? 'simulator',
			timing: 'measured',
			baud: spec.declared?.baud === undefined ? spec.link.baud : spec.declared.baud,
			...(options.note === undefined ? {} : {note: options.note}),
		},
		batches: () => (paced ? inTime() : fast()),
		close: async () => stop.abort(),
		...(paced ? {now} : {}),
	};
}
