/** How far the times of a source can be trusted. */
export type Timing =
	/** Taken by us as the bytes came in (live, recordings). */
	| 'measured'
	/** Read from a time column of a plain log. */
	| 'column'
	/** Made up from `--rate`: link timing is not judged. */
	| 'assumed';

/**
 * What happened to the link besides bytes. `dtr`: opening toggled DTR, which restarts many boards. `baud`: the symbol
 * rate was searched for. `shared`: another program has the port open too. `gap`: somebody left lines of a log out here.
 * `stale`: what comes up to `fresh` had waited in the port since before it was opened, and tells of another time.
 * `session`: in a file, what comes belongs to another session than what came.
 */
export const linkEvents = [
	'port-lost',
	'reattached',
	'dtr',
	'baud',
	'shared',
	'stale',
	'fresh',
	'truncated',
	'gap',
	'session',
	'forgotten',
] as const;

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
