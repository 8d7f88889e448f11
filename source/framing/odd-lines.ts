import type {Candidate} from './find-text-layout.ts';
import type {LineShape} from './line-shape.ts';

/** So many lines in a row of one other shape are a new format. */
const linesToResettle = 8;

/** Each return to a format that held before takes twice as many, so that two senders never make the layout flap. */
const mostLinesToResettle = 64;

/**
 * Lines over which other shapes are counted, and how many of them make another board: damage leaves pieces of many
 * shapes, so a quarter of all lines is never one of them.
 */
const blockLines = 32;
const otherBoardLines = 8;

const mostCounted = 16;

/**
 * Lines that do not fit a settled layout. They are held while they could become a new format: as long as they follow
 * each other and share a shape. Shapes that keep coming between good lines are another board's.
 */
export class OddLines {
	private run: Candidate[] = [];
	/** Shapes that all lines of the run share. */
	private runKeys: string[] = [];
	private others: string[] = [];
	/** How often each shape was settled on. */
	private readonly settledKeys: string[] = [];
	private countedKeys: string[] = [];
	private counts: number[] = [];
	private blockStart = 0;

	/** Lines held. */
	get length(): number {
		return this.run.length;
	}

	/** Nothing is gained by holding more lines. */
	get isFull(): boolean {
		return this.run.length >= mostLinesToResettle;
	}

	/** Gives up the lines held. */
	release(): Candidate[] {
		const {run} = this;
		this.run = [];
		this.runKeys = [];
		return run;
	}

	/** A layout was settled on this shape; `others` are shapes of another board on the line. */
	settled(key: string, others: readonly string[]): void {
		this.settledKeys.push(key);
		if (this.settledKeys.length > mostCounted) this.settledKeys.shift();
		this.others = [...others];
		this.countedKeys = [];
		this.counts = [];
	}

	isOtherBoard(key: string): boolean {
		return this.others.includes(key);
	}

	/** Whether a line shares a shape with the lines held. */
	continues(candidate: Candidate, count: number, forcedCount: number): boolean {
		return (
			this.run.length === 0 ||
			candidate.shapes.some(shape => this.runKeys.includes(shape.key) && couldReplace(shape, count, forcedCount))
		);
	}

	/**
	 * Takes a line that continues the run. `alone` where it can't be part of a new format, so it need not be held; a
	 * shape where the run has become one.
	 */
	take(candidate: Candidate, count: number, forcedCount: number): LineShape | 'alone' | undefined {
		const shapes = candidate.shapes.filter(shape => couldReplace(shape, count, forcedCount));
		const keys = shapes.map(shape => shape.key).filter(key => this.run.length === 0 || this.runKeys.includes(key));
		if (keys.length === 0) return 'alone';
		this.run.push(candidate);
		this.runKeys = keys;
		for (const key of keys) {
			const returns = this.settledKeys.filter(other => other === key).length;
			const needed = Math.min(mostLinesToResettle, linesToResettle * 2 ** returns);
			if (this.run.length < needed) continue;
			const own = this.run.map(held => held.shapes.find(shape => shape.key === key) as LineShape);
			if (own.some(shape => shape.evident) && isAlive(own)) return own[own.length - 1];
		}

		return undefined;
	}

	/** Counts the shapes of an odd line; `lineCount` is the number of lines so far, good ones included. */
	count(candidate: Candidate, lineCount: number): void {
		if (lineCount - this.blockStart >= blockLines) {
			this.blockStart = lineCount;
			this.countedKeys = [];
			this.counts = [];
		}

		for (const shape of candidate.shapes) {
			let place = this.countedKeys.indexOf(shape.key);
			if (place < 0) {
				if (this.countedKeys.length >= mostCounted) continue;
				place = this.countedKeys.push(shape.key) - 1;
				this.counts.push(0);
			}

			if (++this.counts[place] >= otherBoardLines && !this.isOtherBoard(shape.key)) {
				this.others.push(shape.key);
				if (this.others.length > mostCounted) this.others.shift();
			}
		}
	}
}

/** Whether frames of this shape could take the place of a layout with so many columns. */
function couldReplace(shape: LineShape, count: number, forcedCount: number): boolean {
	const own = shape.tokens.values.length;
	if (forcedCount > 0) return own === forcedCount;
	if (own < 2 && count >= 2) return false;
	const {labels} = shape.description;
	const worded = shape.tokens.literals.some(literal => /[A-Za-z]{2}/.test(literal));
	return !worded || shape.tokens.paths !== undefined || labels.every(label => label !== null) || own >= 4;
}

/** A message that is repeated word for word is no format; with words in it, something must change. */
function isAlive(run: readonly LineShape[]): boolean {
	const worded = run[0].tokens.literals.some(literal => /[A-Za-z]{2}/.test(literal));
	const first = run[0].tokens.values.join();
	return !worded || run[0].tokens.values.length >= 3 || run.some(shape => shape.tokens.values.join() !== first);
}
