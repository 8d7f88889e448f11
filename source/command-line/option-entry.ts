/**
 * How an option's value is read.
 *
 * `switch` takes none; `--no-x` turns off a switch that is on by default. `duration` is given as `500ms`, `20s`, `2m`, or
 * a number of seconds, and arrives in seconds. `file` and `code` differ from `text` only for the shells' completions.
 */
type OptionKind = 'switch' | 'text' | 'file' | 'code' | 'whole' | 'number' | 'duration' | 'choice';

/** One option. The same name means the same thing in every command that takes it. */
export type OptionEntry = {
	readonly kind: OptionKind;
	/** Placeholder in the help text. */
	readonly value?: string;
	readonly short?: string;
	/** The allowed words of a `choice`, or the words a number may be replaced by. */
	readonly words?: readonly string[];
	readonly least?: number;
	readonly most?: number;
	/** What a right value is, for `--x must not be "…": it takes ….` A `choice` says its words by itself. */
	readonly takes?: string;
	/** What was meant by a value that is possible and hardly meant, as a question; undefined for any other. */
	readonly instead?: (text: string) => string | undefined;
	/** May be given more than once; the values arrive as a list. */
	readonly multiple?: boolean;
	/** On unless `--no-x` is given (switches only). */
	readonly on?: boolean;
	readonly help: string;
};
