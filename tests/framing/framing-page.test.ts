import {readFileSync} from 'node:fs';
import {expect, test} from 'vitest';
import {record} from './record-framer.ts';

const page = readFileSync(new URL('../../docs/framing.md', import.meta.url), 'utf8');
const examples = [...page.matchAll(/^```frames\n(.*?)^```/gms)].map(match => match[1].trimEnd().split('\n'));

/** The bytes that a line of an example stands for. */
function bytesOf(line: string): Buffer {
	const [, text, times] = /^(.*?)(?: × (\d+))?$/.exec(line) ?? [];
	const codes: Readonly<Record<string, string>> = {r: '\r', n: '\n', t: '\t'};
	const plain = text.replace(/\\(?:x([0-9a-f]{2})|([rnt]))/g, (_, hex, letter) =>
		hex === undefined ? codes[letter] : String.fromCharCode(Number.parseInt(hex, 16)),
	);
	return Buffer.concat(new Array(Number(times ?? 1)).fill(Buffer.from(plain, 'latin1')));
}

test('the page has examples of lines, names, damage and packets', () => {
	expect(examples.length).toBeGreaterThanOrEqual(10);
});

test.each(examples.map(lines => [lines[0], lines] as const))('what the page says of %s is so', (_first, lines) => {
	const [names, values, kinds] = lines.filter(line => line.startsWith('→')).map(line => line.slice(2));
	const input = Buffer.concat(lines.filter(line => !line.startsWith('→')).map(bytesOf));
	for (const chunk of [Number.POSITIVE_INFINITY, 1]) {
		const {recorder} = record(input, {}, chunk);
		expect(recorder.names.join(' ')).toBe(names);
		const last = recorder.values[recorder.values.length - 1];
		expect(last.map(value => (Number.isNaN(value) ? 'nan' : String(value))).join(' ')).toBe(values);
		const odd = recorder.kinds().filter((kind, i) => kind !== 'stray' || recorder.odd[i].offset > 0);
		expect(odd.join(' ')).toBe(kinds ?? '');
	}
});
