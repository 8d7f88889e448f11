import {FrameHistory} from '../../source/features/frame-history.ts';
import {lead, Run} from '../../source/features/run.ts';

/** Readings of one channel as one block each of `length`, a frame a second; all of them are evidence. */
export function* runsOf(readings: readonly number[], length = readings.length): Generator<Run> {
	const history = new FrameHistory(1);
	const before = new Float64Array(lead).fill(Number.NaN);
	const run = new Run();
	for (let from = 0; from < readings.length; from += length) {
		const block = readings.slice(from, from + length);
		for (const [i, reading] of block.entries()) history.push(from + i, Float64Array.of(reading), 0);
		run.gather(history, from, from + block.length, 0, before, 0);
		run.low = Math.min(...block);
		run.high = Math.max(...block);
		run.keepAll();
		yield run;
	}
}
