/** How far the times of a source can be trusted. */
export type Timing =
	/** Taken by us as the bytes came in (live, recordings). */
	| 'measured'
	/** Read from a time column of a plain log. */
	| 'column'
	/** Made up from `--rate`: link timing is not judged. */
	| 'assumed';

export type SourceKind = 'recording' | 'log' | 'serial' | 'tcp' | 'stdin' | 'simulator';

/**
 * What happened to the link besides bytes. `dtr`: opening toggled DTR, which restarts many boards. `baud`: the symbol
 * rate was searched for. `shared`: another program has the port open too.
 */
export const linkEvents = ['port-lost', 'reattached', 'dtr', 'baud', 'shared', 'truncated'] as const;

export type LinkEvent = (typeof linkEvents)[number];

/** Some thirty years of stream time. Later times are damage, and a double could no longer tell fractions of a second. */
export const latestSeconds = 1e9;

/**
 * One thing a source delivers. `t` is in seconds from the start of the source, never falling. Bytes are what the
 * device sent, byte for byte, less what the host's logging program added (a leading time column of a plain log).
 */
export type SourceItem =
	| {readonly t: number; readonly bytes: Uint8Array}
	| {readonly t: number; readonly event: LinkEvent; readonly detail?: string}
	| {readonly t: number; readonly mark: string};

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
	/** Total bytes if known in advance, for a progress bar. */
	readonly totalBytes?: number;
};
