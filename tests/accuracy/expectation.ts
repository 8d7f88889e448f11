/** A fault that has to be found. */
export type Must = {
	/** Any of these names is right. */
	readonly codes: readonly string[];
	/** Where; any of these is right. `any` where docs/faults.md does not say on which channel it is told. */
	readonly channels: readonly (string | null)[] | 'any';
	/** Seconds: when it began; null where that is not known. */
	readonly from: number | null;
	/** Seconds: when what docs/faults.md asks for had been seen; null where it gives no such moment. */
	readonly evidenceAt: number | null;
	/** Seconds from which a delay is counted where `evidenceAt` is null; without it none is. */
	readonly delayFrom?: number;
	/** Seconds: when it ended; null where it lasts. */
	readonly until: number | null;
	/** Seconds: flagged later than this it would be something else. */
	readonly flaggedBy?: number;
	/** Statuses that are right; undefined where docs/faults.md fixes none. */
	readonly statuses?: readonly string[];
	/** The channel is an open pin: at no time between `from` and `until` is it proven. */
	readonly isOpenPin?: boolean;
};

/** What may be named besides. */
export type May = {
	readonly code: string;
	readonly channels: readonly (string | null)[] | 'any';
	/** Seconds between which it may be flagged; left out: at any time. */
	readonly flaggedFrom?: number;
	readonly flaggedBy?: number;
};

/** What a right diagnosis says at the end of a session, as far as docs/faults.md fixes it. */
export type Expectation = {
	readonly musts: readonly Must[];
	readonly mays: readonly May[];
	/** Right words for the state of a channel at the end. Channels that are not named are not judged. */
	readonly states: Readonly<Record<string, readonly string[]>>;
	/** Right verdicts; null where it is not judged. */
	readonly verdicts: readonly string[] | null;
	/** Checks that had no chance yet: not one of them is `clear`. */
	readonly unseen: readonly string[];
};

/** A session in which nothing is wrong. */
export const nothing: Expectation = {musts: [], mays: [], states: {}, verdicts: null, unseen: []};

/** Checks that say nothing before something has moved. */
export const checksOfMovement = [
	'stuck-low',
	'stuck-high',
	'stuck-mid',
	'rough-track',
	'clipped-range',
	'narrow-span',
	'baseline-drift',
	'backlash',
	'reversed-sensor',
	'duplicate-channel',
	'shared-ceiling',
	'stick-no-return',
	'stick-short-throw',
] as const;
