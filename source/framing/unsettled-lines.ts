import {countNonText} from './byte-quality.ts';
import {type Candidate, findTextLayout, linesKept} from './find-text-layout.ts';
import type {HeldLine, LineShape} from './line-shape.ts';
import type {Teller} from './teller.ts';

/**
 * Owns the lines of a stream that has no text layout yet: each is held while it could be one of those that settle it. The
 * oldest is told once there are too many.
 */
export class UnsettledLines {
	private held: Candidate[] = [];
	private readonly teller: Teller;
	/** Columns that the user gave, or 0. */
	private readonly forcedCount: number;

	constructor(teller: Teller, forcedCount: number) {
		this.teller = teller;
		this.forcedCount = forcedCount;
	}

	/** Holds a line. The shape of the layout that the lines held settle now, if they do. */
	take(candidate: Candidate): LineShape | undefined {
		this.held.push(candidate);
		const finding = findTextLayout(this.held, this.forcedCount, false);
		if (finding === undefined && this.held.length >= linesKept) this.tell((this.held.shift() as Candidate).line);
		return finding?.shape;
	}

	/** The stream is over: the shape of the layout that there is among what is held. */
	last(): LineShape | undefined {
		return findTextLayout(this.held, this.forcedCount, true)?.shape;
	}

	/** Gives up the lines held. */
	release(): Candidate[] {
		const {held} = this;
		this.held = [];
		return held;
	}

	/** Tells the lines that ended before a place in the stream. What came behind it were bytes of packets that looked like line ends. */
	tellBefore(offset: number): void {
		for (const {line} of this.release()) {
			if (line.offset + line.lineBytes <= offset) this.tell(line);
			else this.teller.lineCount--;
		}
	}

	/** A line for which no layout was found. Junk in front of the first frame is start-up text at another rate. */
	private tell(line: HeldLine): void {
		this.teller.line(line, countNonText(line.bytes) === 0 ? 'stray' : 'garbled');
	}
}
