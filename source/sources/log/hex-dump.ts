/** How the bytes stand on a line of a dump. */
type Form = 'offset bytes' | 'offset words' | 'offset swapped words' | 'bytes';

/** A dump that was found, to be turned back into what was dumped. */
type HexDump = {readonly form: Form};

const rowsLooked = 200;
const leastRows = 3;
const forms: readonly (readonly [Form, RegExp])[] = [
	// `hexdump -C`, `od -A x -t x1`
	[
		'offset bytes',
		/^([0-9a-f]{6,8}):?\s+((?:[0-9a-f]{2}\s{1,2}){1,32}|(?:[0-9a-f]{2}\s{1,2}){0,31}[0-9a-f]{2})(?:\s*[|>].*)?\s*$/i,
	],
	// `xxd`
	['offset words', /^([0-9a-f]{6,8}):\s+((?:[0-9a-f]{2,4}\s){1,16})(?:\s.*)?$/i],
	// `hexdump`, `od -x`: words of the machine, low byte first
	['offset swapped words', /^([0-9a-f]{6,8})\s+((?:[0-9a-f]{4}\s*){1,8})$/i],
	['bytes', /^()((?:(?:0x)?[0-9a-f]{2}[\s,]+)*(?:0x)?[0-9a-f]{2}[\s,]*)$/i],
];

/**
 * A text that is a dump of bytes as hexadecimal numbers: with offsets in front, or the bytes alone where they make lines
 * of text. Undefined for everything else, and for readings that are written in hexadecimal.
 */
export function findHexDump(start: Uint8Array): HexDump | undefined {
	const lines = Buffer.from(start.buffer, start.byteOffset, start.byteLength)
		.toString('latin1')
		.split(/\r?\n/)
		.slice(0, -1)
		.filter(line => line.trim() !== '' && line.trim() !== '*')
		.slice(0, rowsLooked);
	if (lines.length < leastRows) return undefined;
	for (const [form, pattern] of forms) {
		const rows = lines.map(line => pattern.exec(line));
		const found = rows.filter(row => row !== null);
		if (found.length < 0.95 * lines.length) continue;
		if (form === 'bytes') {
			const bytes = Buffer.concat(found.map(row => bytesOf(row[2], form)));
			const text = bytes.filter(
				byte => (byte >= 0x20 && byte < 0x7f) || byte === 0x0d || byte === 0x0a || byte === 0x09,
			);
			if (bytes.length >= 16 && text.length > 0.95 * bytes.length && bytes.includes(0x0a)) return {form};
			continue;
		}

		const offsets = found.map(row => [Number.parseInt(row[1], 16), Number.parseInt(row[1], 8)]);
		const rises = [0, 1].some(base => offsets.every((offset, i) => i === 0 || offset[base] > offsets[i - 1][base]));
		if (rises) return {form};
	}

	return undefined;
}

function bytesOf(text: string, form: Form): Buffer {
	const digits = text.replaceAll(/0x|[\s,]/gi, '');
	const bytes = Buffer.from(digits.length % 2 === 0 ? digits : digits.slice(0, -1), 'hex');
	return form === 'offset swapped words' && bytes.length % 2 === 0 ? bytes.swap16() : bytes;
}

/** The bytes that were dumped. Lines that are none of the dump are left out. */
export async function* fromHexDump(chunks: AsyncIterable<Uint8Array>, {form}: HexDump): AsyncGenerator<Uint8Array> {
	const pattern = forms.find(([name]) => name === form)![1];
	let rest = '';
	const decode = (lines: readonly string[]): Buffer =>
		Buffer.concat(
			lines.flatMap(line => {
				const row = line.length > 400 ? null : pattern.exec(line);
				return row === null ? [] : [bytesOf(row[2], form)];
			}),
		);
	for await (const chunk of chunks) {
		const lines = (rest + Buffer.from(chunk).toString('latin1')).split(/\r?\n/);
		rest = lines.pop() ?? '';
		const bytes = decode(lines);
		if (bytes.length > 0) yield bytes;
	}

	const last = decode([rest]);
	if (last.length > 0) yield last;
}
