const escapeByte = 0x1b;
const bell = 0x07;

/** Looked at byte by byte: longer ones than this are no colours, but a stream that is no text. */
const longestCode = 256;

/**
 * Takes colours and other terminal control sequences out of a line, in place. `bytes` from `start` to `end`; returns where
 * the line now ends: `end` itself where there was none. A sequence that the line cuts off goes too.
 *
 * Source: ECMA-48, 5th edition, sections 5.3 (Fe), 5.4 (CSI: parameters 3/0–3/15, intermediates 2/0–2/15, final
 * 4/0–7/14) and 8.3.89 (OSC, ended by ST; terminals take BEL as well).
 */
export function dropTerminalCodes(bytes: Uint8Array, start: number, end: number): number {
	let at = start;
	while (at < end && bytes[at] !== escapeByte) at++;
	let to = at;
	while (at < end) {
		if (bytes[at] === escapeByte) at = afterCode(bytes, at, end);
		else bytes[to++] = bytes[at++];
	}

	return to;
}

/** Where the sequence that begins with the ESC at `at` ends. */
function afterCode(bytes: Uint8Array, at: number, end: number): number {
	const next = at + 1;
	const limit = Math.min(end, next + longestCode);
	if (next >= end) return end;
	const kind = bytes[next];
	if (kind === 0x5b) return afterFinal(bytes, next + 1, limit, 0x3f, 0x40);
	if (kind === 0x5d || kind === 0x50 || kind === 0x58 || kind === 0x5e || kind === 0x5f)
		return afterString(bytes, next + 1, limit, end);
	return afterFinal(bytes, next, limit, 0x2f, 0x30);
}

/** Behind parameters and intermediates (up to `lastInner`) and the final byte (from `firstFinal` on): anything else there is no part of it. */
function afterFinal(bytes: Uint8Array, start: number, limit: number, lastInner: number, firstFinal: number): number {
	let next = start;
	while (next < limit && bytes[next] >= 0x20 && bytes[next] <= lastInner) next++;
	return next < limit && bytes[next] >= firstFinal && bytes[next] <= 0x7e ? next + 1 : next;
}

/** Behind a control string, which BEL or ST ends. */
function afterString(bytes: Uint8Array, start: number, limit: number, end: number): number {
	let next = start;
	for (; next < limit; next++) {
		if (bytes[next] === bell) return next + 1;
		if (bytes[next] === escapeByte && bytes[next + 1] === 0x5c) return Math.min(end, next + 2);
	}

	return next;
}

/**
 * Colours whose ESC was lost on the way or written out: `\x1b[32m`, `\033[0m`, `\e[1m`, `\u001b[0m`, `^[[32m`, the
 * sign for ESC, a question mark in a box, or `[0;32m` alone. Numbers of SGR go up to 107 (ECMA-48 8.3.117 and the usual
 * bright colours), so that `[512m` stays.
 */
export const spelledTerminalCodes =
	/(?:\\(?:x1[bB]|033|e|u001[bB])|\^\[|\u241b|\ufffd)\[[0-9;?]*[A-Za-z]|\[(?:(?:\d|\d\d|10[0-7])(?:;(?:\d{1,2}|10[0-7]|[12]\d\d))*)m(?![A-Za-z]{0,1}[\]},])/g;
