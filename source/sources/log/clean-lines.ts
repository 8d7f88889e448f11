import {findLineEnd} from './log-lines.ts';
import type {LineStage} from './stages/line-stage.ts';

/** Lines longer than this are no frames: they are handed on in pieces, as they are. */
const longestLine = 64 * 1024;

/** The text lines of a sample, one character a byte; the last one only where it is whole. */
export function sampleLines(start: Uint8Array, whole: boolean): string[] {
	const text = Buffer.from(start.buffer, start.byteOffset, start.byteLength).toString('latin1');
	const lines = text.split(findLineEnd(start) === 'cr' ? /\r\n?|\n/ : /\r*\n/);
	const last = lines.pop();
	if (whole && last !== undefined && last !== '') lines.push(last);
	return lines;
}

/** A log's text after the steps that it needs. Lines end as most of them did. */
export async function* cleanLines(
	chunks: AsyncIterable<Uint8Array>,
	stages: readonly LineStage[],
	start: Uint8Array,
): AsyncGenerator<Uint8Array> {
	const lineEnd = findLineEnd(start) === 'cr' ? /\r\n?|\n/ : /\r*\n/;
	let out: string[] = [];
	const passes: ((line: string) => void)[] = [line => void out.push(line)];
	for (const stage of [...stages].reverse()) {
		const next = passes[0];
		passes.unshift(line => stage.take(line, next));
	}

	const newLine = Buffer.from(start.buffer, start.byteOffset, start.byteLength).includes('\r\n') ? '\r\n' : '\n';
	const written = (): Buffer => {
		const text = out.join(newLine) + newLine;
		out = [];
		return Buffer.from(text, 'latin1');
	};

	let rest = '';
	for await (const chunk of chunks) {
		const text = rest + Buffer.from(chunk.buffer, chunk.byteOffset, chunk.byteLength).toString('latin1');
		// A CR at the end may be half of a line end.
		const cut = text.endsWith('\r') ? text.length - 1 : text.length;
		const lines = text.slice(0, cut).split(lineEnd);
		rest = (lines.pop() ?? '') + text.slice(cut);
		for (const line of lines) passes[0](line);
		while (rest.length > longestLine) {
			out.push(rest.slice(0, longestLine));
			rest = rest.slice(longestLine);
		}

		if (out.length > 0) yield written();
	}

	if (rest !== '') passes[0](rest.replace(/\r+$/, ''));
	for (const [place, stage] of stages.entries()) stage.end?.(passes[place + 1]);
	if (out.length > 0) yield written();
}
