import type {BadLineKind, FramerOptions, FrameSink} from '../../source/framing/frame-sink.ts';
import {Framer} from '../../source/framing/framer.ts';
import type {Layout} from '../../source/framing/layout.ts';

const encoder = new TextEncoder();
const decoder = new TextDecoder();

export type BadLine = {readonly kind: BadLineKind; readonly text: string; readonly offset: number};

/** Keeps everything a framer tells. */
export class Collected implements FrameSink {
	layouts: Layout[] = [];
	frames: number[][] = [];
	frameTimes: number[] = [];
	frameBytes: number[] = [];
	bad: BadLine[] = [];
	stray: string[] = [];
	/** Kind of every call in order: `L`, `f`, `b`, `s`. */
	order = '';

	layout(_t: number, layout: Layout): void {
		this.layouts.push(layout);
		this.order += 'L';
	}

	frame(t: number, values: Float64Array, lineBytes: number): void {
		this.frames.push([...values]);
		this.frameTimes.push(t);
		this.frameBytes.push(lineBytes);
		this.order += 'f';
	}

	badLine(_t: number, kind: BadLineKind, excerpt: Uint8Array, offset: number): void {
		this.bad.push({kind, text: decoder.decode(excerpt), offset});
		this.order += 'b';
	}

	strayLine(_t: number, excerpt: Uint8Array): void {
		this.stray.push(decoder.decode(excerpt));
		this.order += 's';
	}

	get names(): string[] {
		return this.layouts.at(-1)?.channels.map(channel => channel.name) ?? [];
	}
}

export const bytesOf = (text: string): Uint8Array => encoder.encode(text);

/** Frames bytes that come `bytesPerPush` at a time, `secondsPerPush` apart. */
export function frameBytes(
	bytes: Uint8Array,
	options: FramerOptions = {},
	bytesPerPush = 64,
	secondsPerPush = 0.0125,
): Collected {
	const collected = new Collected();
	const framer = new Framer(collected, options);
	let t = 0;
	for (let at = 0; at < bytes.length; at += bytesPerPush) {
		t += secondsPerPush;
		framer.push(t, bytes.subarray(at, Math.min(bytes.length, at + bytesPerPush)));
	}
	framer.end(t);
	return collected;
}

/** Frames lines that come one by one at 100 a second, each with its end. */
export function frameLines(lines: readonly string[], options: FramerOptions = {}, end = '\r\n'): Collected {
	const collected = new Collected();
	const framer = new Framer(collected, options);
	for (const [i, line] of lines.entries()) framer.push(i / 100, bytesOf(line + end));
	framer.end(lines.length / 100);
	return collected;
}

/** Rows of counts that no two columns share, and that are neither counter nor clock: each column moves by its own wave. */
export function handRows(count: number, columns = 5, full = 1023): number[][] {
	return Array.from({length: count}, (_, row) =>
		Array.from({length: columns}, (_, column) =>
			Math.round(full * (0.5 + (0.3 + 0.02 * column) * Math.sin(0.31 * row + 1.3 * column + 0.7 * Math.sin(row)))),
		),
	);
}
