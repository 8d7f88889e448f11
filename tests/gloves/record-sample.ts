import {CannotError} from '../../source/cannot-error.ts';
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {simulatorSource} from '../../source/sources/simulator-source.ts';
import {bringUpSample, type SampleFaults} from './sample-script.ts';

/** A recorded routine: the seed of its glove and what is wrong with it. */
export type RecordedSample = SampleFaults & {readonly seed: number};

/** As the other samples: every movement is there at half the size. */
const framesPerSecond = 50;

/** One date for every sample, so that the same settings make the same file. */
const simulatedStart = new Date('2001-01-01T00:00:00Z');

/** Writes the whole routine of a simulated glove as a recording, over a file that is there. */
export async function recordSample(name: string, {seed, ...faults}: RecordedSample, path: string): Promise<void> {
	const spec = bringUpSample(seed, faults);
	const source = simulatorSource(
		{...spec, stream: {...spec.stream, rate: framesPerSecond}},
		{paced: false, signal: new AbortController().signal},
	);
	const note = `A whole bring-up; made by node recordings/make.mjs ${name}`;
	const writer = await RecordingWriter.create(path, {
		source: source.info,
		note,
		startedAt: simulatedStart,
		force: true,
	});
	for await (const batch of source.batches()) for (const item of batch) writer.write(item);
	await writer.close(spec.durationSeconds);
	if (writer.error !== undefined) throw new CannotError(writer.error);
}
