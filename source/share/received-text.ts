import type {SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';

/** Kinds of lines kept; a person reads no more. */
export const mostKinds = 200;

/** What of a line is looked at; also what is kept where no line end ever comes. */
const maxLineLength = 400;

const shownColumns = 72;

/**
 * One example of each kind of line in which the device says something in words: start-up text, messages, labels. Lines
 * that differ only in their numbers are of one kind. Escaped for a terminal, in order of appearance.
 */
export function receivedText(items: Iterable<SourceItem>): string[] {
	const kinds = new Map<string, string>();
	let pending = '';
	const take = (line: string) => {
		if (kinds.size >= mostKinds || !saysWords(line.trim())) return;
		const kind = line.replace(/[-+]?\d+(?:[.,]\d+)?/g, '#');
		if (!kinds.has(kind)) kinds.set(kind, escapeText(line.trim(), shownColumns));
	};

	const decoder = new TextDecoder();
	for (const item of items) {
		if (!('bytes' in item)) continue;
		const lines = (pending + decoder.decode(item.bytes, {stream: true})).split(/[\r\n]+/);
		pending = (lines.pop() ?? '').slice(0, maxLineLength);
		for (const line of lines) take(line.slice(0, maxLineLength));
	}

	take(pending);
	return [...kinds.values()];
}

/** Control sequences of ECMA-48 with what they carry: firmware logs are often coloured. */
const controlSequence = /\u001b(?:\[[0-?]*[ -/]*[@-~]|\][^\u0007\u001b]*(?:\u0007|\u001b\\)?|[ -/]*[0-~])/g;

/** Packets of 16-bit values have a byte of few bits, which prints as nothing, in every two; text hardly any. */
const mostUnprintableShare = 0.2;

/** Three letters in a row in a line of mostly printable characters: a word, not a packet that looks like one. */
function saysWords(line: string): boolean {
	if (!/\p{L}{3}/u.test(line)) return false;
	const rest = line.replace(controlSequence, '');
	const unprintable = rest.match(/[\p{Cc}\uFFFD]/gu)?.length ?? 0;
	return unprintable <= mostUnprintableShare * rest.length;
}
