/** Lines of one kind that were taken out, or out of which something was taken. */
export type LeftOut = {readonly what: string; readonly lines: number};

/** How a source was read before anything was looked at as a frame: the intake of every report begins with it. */
export type SourceIntake = {
	/** What the text was brought from into the form of plain lines, one sentence part each: `colours taken out of 812 lines`. */
	readonly steps: readonly string[];
	/** What was left out, and from how many lines. */
	readonly leftOut: readonly LeftOut[];
	/** What looked odd, a sentence each. */
	readonly odd: readonly string[];
	/** It has times, too coarse to tell one line from the next. */
	readonly coarseTimes?: true;
};

/** What a line that names the columns is called where it is told with what was left out. */
export const headerLine = 'a header line';

/** The same for a line that says that lines were left out. */
export const omittedLines = 'notes that lines were left out, each a break';
