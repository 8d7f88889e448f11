import {isUtf8} from 'node:buffer';
import type {SourceItem} from '../stream/source-item.ts';

/** The version this program writes, and the newest it reads. */
export const recordingVersion = 1;

/** How the name of a recording ends; without `ec` in the first edition. What a file is, its first line decides. */
export const recordingEnding = /\.gbr(?:ec)?(?:\.gz)?$/i;

/** What the first line of a recording says. Format: docs/recording.md. */
export type RecordingHeader = {
	/** Format version. */
	readonly glovebench: number;
	/** Wall clock at t = 0, ISO 8601. */
	readonly startedAt: string;
	/** What was recorded: kind, name, timing, and whatever else the writer knew of it. */
	readonly source: Readonly<Record<string, unknown>>;
	readonly link: {readonly baud: number} | null;
	/** The sheet in force while recording, as parsed. */
	readonly sheet: unknown;
	readonly note: string;
};

/** The first line of a recording, with its line end. */
export function encodeHeader(header: RecordingHeader): string {
	return `${JSON.stringify(header)}\n`;
}

/**
 * One line of a recording, with its line end. Bytes that are valid UTF-8 are written as text, others as base64, so that
 * every chunk comes back byte for byte.
 */
export function encodeItem(item: SourceItem): string {
	const t = JSON.stringify(item.t);
	if ('bytes' in item) {
		const bytes = Buffer.from(item.bytes.buffer, item.bytes.byteOffset, item.bytes.byteLength);
		return isUtf8(bytes)
			? `{"t":${t},"rx":${JSON.stringify(bytes.toString('utf8'))}}\n`
			: `{"t":${t},"rx64":"${bytes.toString('base64')}"}\n`;
	}

	if ('mark' in item) return `{"t":${t},"mark":${JSON.stringify(item.mark)}}\n`;
	const detail = item.detail === undefined ? '' : `,"detail":${JSON.stringify(item.detail)}`;
	return `{"t":${t},"event":${JSON.stringify(item.event)}${detail}}\n`;
}

/** The last line of a recording that was closed in order. `bytes`: how many were received in all. */
export function encodeEnd(t: number, bytes: number): string {
	return `{"t":${JSON.stringify(t)},"end":true,"bytes":${bytes}}\n`;
}
