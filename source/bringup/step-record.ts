/** How a step ended. */
export type Outcome = 'done' | 'skipped' | 'unanswered';

/** One pull as it is kept; levels in the unit of the readings. */
export type KeptPull = {
	readonly column: number;
	readonly before: number;
	readonly after: number;
	readonly excursion: number;
	readonly wobble: number;
	readonly dropouts: number;
};

/** The range a column used while the hand opened and closed. */
export type KeptRange = {
	readonly column: number;
	readonly low: number | null;
	readonly high: number | null;
	/** Visits that agree on the end seen least. */
	readonly visits: number;
	/** Of the reading as the hand closes: +1 rises, −1 falls, 0 not known. */
	readonly direction: -1 | 0 | 1;
};

/** What a step left behind: plain JSON, so that a routine that was broken off can go on. */
export type StepRecord = {
	readonly id: string;
	readonly outcome: Outcome;
	/** Stream seconds. */
	readonly from: number;
	readonly to: number;
	/** The column that answered, where one was asked for; null where none did. */
	readonly column: number | null;
	readonly pulls?: readonly KeptPull[];
	/** `rest`: noise at rest per column, rms; columns that would not come to rest. */
	readonly noise?: readonly {readonly column: number; readonly rms: number}[];
	readonly restless?: readonly number[];
	/** `hand`. */
	readonly ranges?: readonly KeptRange[];
	/** `stick around`: farthest way from the rest point per stick column, low and high side. */
	readonly reach?: readonly {readonly column: number; readonly low: number; readonly high: number}[];
	/** `ruler …`: levels of its stays in order, in the unit of the readings. */
	readonly stays?: readonly number[];
	/** `button-…`. */
	readonly presses?: number;
};
