import type {BadLineKind, FrameSink} from './frame-sink.ts';
import {excerptOf} from './line-bytes.ts';
import type {HeldLine} from './line-shape.ts';

/**
 * Owns whom a framer tells, and the count of lines and packets: what outlives every layout and every state. Tells lines and
 * packets that are no frame, by their beginning.
 */
export class Teller {
	sink: FrameSink;
	/** Lines and packets that were complete, good or not; empty lines do not count. */
	lineCount = 0;

	constructor(sink: FrameSink) {
		this.sink = sink;
	}

	/** Something that was never meant as a frame. */
	stray(t: number, bytes: Uint8Array, offset: number): void {
		this.sink.strayLine(t, excerptOf(bytes), offset);
	}

	/** A damaged frame. */
	bad(t: number, kind: BadLineKind, bytes: Uint8Array, offset: number): void {
		this.sink.badLine(t, kind, excerptOf(bytes), offset);
	}

	/** A line that was held. Damage to the stream's first one goes untold: it may have been joined in its middle. */
	line({t, bytes, offset, isFirst}: HeldLine, kind: BadLineKind | 'stray'): void {
		if (kind === 'stray') this.stray(t, bytes, offset);
		else if (!isFirst) this.bad(t, kind, bytes, offset);
	}
}
