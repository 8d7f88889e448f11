import type {LeftOut} from '../../../stream/intake.ts';

/**
 * One step of the intake: takes lines (their text, one character a byte, without line end) and passes them on changed,
 * joined, split or not at all. Found once from the beginning of a log, then applied to every line of it.
 */
export type LineStage = {
	/** Takes a line; calls `pass` for each line that comes of it. */
	take(line: string, pass: (line: string) => void): void;
	/** The log is over: passes what was held back. */
	end?(pass: (line: string) => void): void;
	/** What it did so far, for the intake; nothing where it has done nothing. */
	readonly told: LeftOut | undefined;
	/** A second thing that it did, such as leaving lines out. */
	readonly alsoTold?: LeftOut | undefined;
};

/** Finds out from the first lines whether a step is needed. */
export type StageFinder = (sample: readonly string[]) => LineStage | undefined;

/** The lines that come of some lines. */
export function runStage(stage: LineStage, lines: readonly string[]): string[] {
	const passed: string[] = [];
	for (const line of lines) stage.take(line, one => passed.push(one));
	stage.end?.(one => passed.push(one));
	return passed;
}

/** A step that changes lines one by one; `null` leaves a line out. */
export class LineChange implements LineStage {
	lines = 0;
	readonly #what: string;
	readonly #change: (line: string) => string | null;

	constructor(what: string, change: (line: string) => string | null) {
		this.#what = what;
		this.#change = change;
	}

	take(line: string, pass: (line: string) => void): void {
		const changed = this.#change(line);
		if (changed !== line) this.lines++;
		if (changed !== null) pass(changed);
	}

	get told(): LeftOut | undefined {
		return this.lines === 0 ? undefined : {what: this.#what, lines: this.lines};
	}
}

/** Numbers on a line. */
export function countNumbers(line: string): number {
	return line.match(/\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?/g)?.length ?? 0;
}

/** Share of the lines of which something holds. */
export function shareOf(lines: readonly string[], holds: (line: string) => boolean): number {
	return lines.length === 0 ? 0 : lines.filter(holds).length / lines.length;
}
