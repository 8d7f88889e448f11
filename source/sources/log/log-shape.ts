import type {LineEnd} from './log-lines.ts';
import type {StampReader} from './stamp-reader.ts';
import type {TextColumns} from './text-columns.ts';

/** Where a log's times are, and how to read them. Settled once, from the beginning of the file. */
export type StampShape = {
	readonly reader: StampReader;
	/** Stamp unit to seconds. */
	readonly divisor: number;
	/** The stamp and what follows it were put before the frame by the listening program: they are no part of the bytes. */
	readonly foreign: boolean;
	/** What separates a foreign stamp from its frame on most lines. */
	readonly tail: Uint8Array;
	/** The clock starts again from 0 at midnight. */
	readonly wrapsAtMidnight: boolean;
	/** The line whose first field names the stamp and goes with it, counted from 0; −1 for none. */
	readonly headerLine: number;
	/** Mean time between lines, seconds. */
	readonly meanIntervalSeconds: number;
	/**
	 * Length of the steps the stamps are printed in, seconds, where several lines fall into one: times are then spread
	 * over it. 0 where the stamps are fine enough to be taken as they are.
	 */
	readonly coarseSeconds: number;
};

export type LogShape = {
	readonly lineEnd: LineEnd;
	readonly stamp: StampShape | null;
	/** Columns that are taken off before anything reads the line as a frame; null for none. */
	readonly textColumns: TextColumns | null;
};
