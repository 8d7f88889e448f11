import type {SourceIntake} from './intake.ts';
import type {SourceItem, Timing} from './source-item.ts';

export type SourceKind = 'recording' | 'log' | 'serial' | 'tcp' | 'stdin' | 'simulator';

export type SourceInfo = {
	readonly kind: SourceKind;
	/** As the user would name it: path, port, address. */
	readonly name: string;
	readonly timing: Timing;
	/** Symbol rate of the serial line, if there is one. */
	readonly baud: number | null;
	/** Sheet stored in a recording's header, as parsed JSON. */
	readonly sheet?: unknown;
	/** The note of a recording's header. */
	readonly note?: string;
	/** ISO 8601 start of the recording. */
	readonly startedAt?: string;
};

/**
 * Where timed bytes come from. Items arrive in batches, because a file yields hundreds of thousands of them;
 * a live source yields a batch per chunk. The iteration ends when the source does; it throws `CannotError`
 * for what the user can act on.
 */
export type Source = {
	readonly info: SourceInfo;
	batches(): AsyncIterable<readonly SourceItem[]>;
	/** Stops a live source; harmless on a finished one. */
	close(): Promise<void>;
	/** Seconds since the source's start on the clock its items use; only live sources have it. */
	now?(): number;
	/** When the source ended, on the clock of its items: known once the iteration is over, where it is later than the last item. */
	endedAt?(): number | undefined;
	/** How a log was brought into the form of plain lines: complete once the iteration is over. */
	intake?(): SourceIntake;
	/** Total bytes if known in advance, for a progress bar. */
	readonly totalBytes?: number;
};
