import {escapeText} from '../../text/escape-text.ts';
import {html, type Markup} from './markup.ts';

const sampleLines = 12;
const mostColumns = 160;

/** The first lines as they came, without their ends, each escaped and cut. */
export function rawLines(sample: Uint8Array, most = sampleLines): string[] {
	const lines: string[] = [];
	let start = 0;
	while (start < sample.length && lines.length < most) {
		const end = sample.indexOf(0x0a, start);
		const next = end === -1 ? sample.length : end + 1;
		lines.push(escapeText(withoutEnd(sample.subarray(start, next)), mostColumns));
		start = next;
	}

	return lines;
}

function withoutEnd(line: Uint8Array): Uint8Array {
	let end = line.length;
	while (end > 0 && (line[end - 1] === 0x0a || line[end - 1] === 0x0d)) end--;
	return line.subarray(0, end);
}

/** The first lines in a box; nothing where nothing came. */
export function rawBox(sample: Uint8Array): Markup | null {
	const lines = rawLines(sample);
	return lines.length > 0
		? html`<pre tabindex="0" role="group" aria-label="The first lines as they came">${lines.map(line => html`${line}\n`)}</pre>`
		: null;
}
