import type {RecordingWriter} from '../recording/recording-writer.ts';
import type {Source} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';

/** A source whose items are kept as they are delivered, and marks between them. */
type RecordedSource = {
	readonly source: Source;
	/** Notes something at stream time `t`. */
	mark(t: number, text: string): void;
};

/** Keeps all that `source` delivers with `writer`. */
export function recordedSource(source: Source, writer: RecordingWriter): RecordedSource {
	let lastT = 0;
	return {
		source: {
			...source,
			info: source.info,
			...(source.now && {now: () => source.now!()}),
			close: () => source.close(),
			async *batches(): AsyncGenerator<readonly SourceItem[]> {
				for await (const batch of source.batches()) {
					for (const item of batch) {
						writer.write(item);
						lastT = item.t;
					}

					yield batch;
				}
			},
		},
		// What came in the meantime is written already, and times must not fall.
		mark: (t, text) => writer.write({t: Math.max(t, lastT), mark: text}),
	};
}
