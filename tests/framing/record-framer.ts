import type {BadLineKind, FramerOptions, FrameSink} from '../../source/framing/frame-sink.ts';
import {Framer} from '../../source/framing/framer.ts';
import type {Layout} from '../../source/framing/layout.ts';

export type Frame = {readonly t: number; readonly values: readonly number[]; readonly lineBytes: number};
export type Odd = {
	readonly t: number;
	readonly kind: BadLineKind | 'stray';
	readonly text: string;
	readonly offset: number;
};

/** Writes down all that a framer tells. */
export class Recorder implements FrameSink {
	readonly layouts: Layout[] = [];
	readonly frames: Frame[] = [];
	readonly odd: Odd[] = [];
	/** Everything in order, for comparisons. */
	readonly log: string[] = [];

	layout(_t: number, layout: Layout): void {
		this.layouts.push(layout);
		this.log.push(`layout ${JSON.stringify(layout)}`);
	}

	frame(t: number, values: Float64Array, lineBytes: number): void {
		this.frames.push({t, values: [...values], lineBytes});
		this.log.push(`frame ${[...values].join()} ${lineBytes}`);
	}

	badLine(t: number, kind: BadLineKind, excerpt: Uint8Array, offset: number): void {
		this.note(t, kind, excerpt, offset);
	}

	strayLine(t: number, excerpt: Uint8Array, offset: number): void {
		this.note(t, 'stray', excerpt, offset);
	}

	/** Names of the channels of the newest layout. */
	get names(): string[] {
		return this.layouts[this.layouts.length - 1]?.channels.map(channel => channel.name) ?? [];
	}

	get values(): readonly (readonly number[])[] {
		return this.frames.map(frame => frame.values);
	}

	kinds(): string[] {
		return this.odd.map(line => line.kind);
	}

	private note(t: number, kind: BadLineKind | 'stray', excerpt: Uint8Array, offset: number): void {
		this.odd.push({t, kind, text: Buffer.from(excerpt).toString('latin1'), offset});
		this.log.push(`${kind} ${Buffer.from(excerpt).toString('hex')} ${offset}`);
	}
}

export type Recorded = {readonly recorder: Recorder; readonly framer: Framer};

export function toBytes(input: string | Uint8Array): Uint8Array {
	return typeof input === 'string' ? Buffer.from(input, 'utf8') : input;
}

/** Feeds a framer the whole input, or chunks of a size, every chunk at its own time: `secondsPerByte` times its start. */
export function record(
	input: string | Uint8Array,
	options: FramerOptions = {},
	chunk = Number.POSITIVE_INFINITY,
	secondsPerByte = 0,
): Recorded {
	const bytes = toBytes(input);
	const recorder = new Recorder();
	const framer = new Framer(recorder, options);
	for (let at = 0; at < bytes.length; at += chunk)
		framer.push(at * secondsPerByte, bytes, at, Math.min(bytes.length, at + chunk));
	framer.end(bytes.length * secondsPerByte);
	return {recorder, framer};
}

/** Feeds lines one by one, `period` seconds apart, and ends the stream. */
export function recordLines(lines: readonly string[], period = 0.01, options: FramerOptions = {}): Recorded {
	const recorder = new Recorder();
	const framer = new Framer(recorder, options);
	lines.forEach((line, i) => {
		framer.push(i * period, toBytes(`${line}\r\n`));
	});
	framer.end(lines.length * period);
	return {recorder, framer};
}

/** A small generator of whole numbers below `top`, the same on every run (Numerical Recipes' constants). */
export function numbers(seed: number): (top: number) => number {
	let state = seed >>> 0;
	return top => {
		state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
		return Math.floor((state / 2 ** 32) * top);
	};
}

/** Readings of a resting or moving hand: five fingers that go to and fro at their own pace with a count or two of noise. */
export function handFrames(count: number, columns = 5, seed = 1): number[][] {
	const next = numbers(seed);
	return Array.from({length: count}, (_, i) =>
		Array.from({length: columns}, (_, c) => Math.round(500 + 300 * Math.sin(i / (17 + 3 * c) + c)) + next(3) - 1),
	);
}
