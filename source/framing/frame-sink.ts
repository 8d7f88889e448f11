import type {Layout} from './layout.ts';

/** Why a line or packet is no frame. */
export type BadLineKind =
	/** Fewer values than the layout has. */
	| 'short'
	/** More values than the layout has: two frames on one line. */
	| 'merged'
	/** Something in it cannot be read as a value. */
	| 'garbled'
	/** Ran past the cap without a line end. */
	| 'overlong'
	/** A packet whose CRC or length is wrong. */
	| 'checksum';

/** Why a layout is told. */
export type LayoutChange =
	/** The first of the stream. */
	| 'found'
	/** What was held of the columns so far was wrong: a role, a name, or lines that were no frames. */
	| 'corrected'
	/** It was right, for long, and the stream has become another. */
	| 'changed';

/**
 * What a framer tells its owner, in the order of the stream. Every call carries the time, in seconds, of the chunk
 * that completed the line. Arrays handed over are only valid during the call.
 */
export type FrameSink = {
	/** A layout was settled, or replaced after the firmware changed its format. Comes before the first frame in it. */
	layout(t: number, layout: Layout, change: LayoutChange): void;
	/**
	 * One frame. `values[i]` belongs to `layout.channels[i]`; NaN where the sender gave none (`null`, `nan`, empty).
	 * `lineBytes` is the length of the line or packet with its end, for the link's load and to spot eaten bytes.
	 */
	frame(t: number, values: Float64Array, lineBytes: number): void;
	/** A damaged frame. `excerpt` is at most 120 bytes of it, raw: escape before showing. `offset` counts received bytes from 0. */
	badLine(t: number, kind: BadLineKind, excerpt: Uint8Array, offset: number): void;
	/** A line that was never meant as a frame: boot text, debug prints, a banner, a header line. Raw, at most 120 bytes. */
	strayLine(t: number, excerpt: Uint8Array, offset: number): void;
};

/** Options a user or a sheet can force; everything left out is found out from the stream. */
export type FramerOptions = {
	/**
	 * `--layout`: channel names in order, comma separated, e.g. `thumb,index,middle,ring,little,stick-x,stick-y,button-1`.
	 * `-` stands for a column to ignore (`spare`). May be prefixed by a framing: `slip:…`, `cobs:…`, `json:…`.
	 */
	readonly layout?: string;
	/** Longest line kept while no end comes, in bytes. Default 65,536. */
	readonly maxLineBytes?: number;
};
