import type {BadLineKind, FrameSink, LayoutChange} from '../framing/frame-sink.ts';
import {Framer} from '../framing/framer.ts';
import type {Layout} from '../framing/layout.ts';
import {interruptions} from '../session/session.ts';
import type {SourceItem} from '../stream/source-item.ts';

/** Who wants the frames of a stream as they come. */
export type FrameTaker = {
	layout(t: number, layout: Layout, change: LayoutChange): void;
	/** `values` are those of the latest layout, valid during the call only. */
	frame(t: number, values: Float64Array): void;
	/** A damaged line. */
	badLine?(): void;
};

/** The way of a stream's frames past the session: what a line is is settled as there, and nothing is judged. */
export class FrameTap implements FrameSink {
	/** Damaged lines, and lines that were never meant as frames. */
	badLines = 0;
	strayLines = 0;
	frames = 0;
	private readonly framer: Framer;
	private readonly taker: FrameTaker;
	private t = 0;

	constructor(taker: FrameTaker, layout: string | undefined) {
		this.taker = taker;
		this.framer = new Framer(this, layout === undefined ? {} : {layout});
	}

	push(item: SourceItem): void {
		this.t = Math.max(this.t, item.t);
		if ('bytes' in item) this.framer.push(this.t, item.bytes);
		else if ('event' in item && interruptions.has(item.event)) this.framer.resync();
	}

	end(): void {
		this.framer.end(this.t);
	}

	layout(t: number, layout: Layout, change: LayoutChange = 'found'): void {
		this.taker.layout(t, layout, change);
	}

	frame(t: number, values: Float64Array): void {
		this.frames++;
		this.taker.frame(t, values);
	}

	badLine(_t: number, _kind: BadLineKind): void {
		this.badLines++;
		this.taker.badLine?.();
	}

	strayLine(): void {
		this.strayLines++;
	}
}
