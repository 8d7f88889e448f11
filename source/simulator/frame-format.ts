import {crc16, encodeCobs, encodeSlip} from './packets.ts';
import type {StreamSpec} from './stream-spec.ts';

/** A column as sent. */
type Column = {
	readonly name: string;
	readonly kind: 'analog' | 'button' | 'counter' | 'clock';
	/** Place in the values handed to the formatter. */
	readonly source: number;
};

const letters: Readonly<Record<string, string>> = {
	thumb: 't',
	index: 'i',
	middle: 'm',
	ring: 'r',
	little: 'l',
	'stick-x': 'x',
	'stick-y': 'y',
	counter: 'n',
	clock: 'ms',
};

function labelOf(name: string, style: StreamSpec['labelStyle']): string {
	if (style === 'full') return name;
	if (style === 'capital') return name[0].toUpperCase() + name.slice(1);
	return letters[name] ?? name.replace(/^button-/, 'b').replace(/^(.)[a-z]*-/, '$1');
}

/** Columns in the order sent. `values` at formatting time are: analog channels, buttons, counter, clock. */
export function columnsOf(stream: StreamSpec, analog: readonly string[], buttons: number): Column[] {
	let readings: Column[] = [
		...analog.map((name, i) => ({name, kind: 'analog' as const, source: i})),
		...Array.from({length: buttons}, (_, i) => ({
			name: `button-${i + 1}`,
			kind: 'button' as const,
			source: analog.length + i,
		})),
	];
	const {order} = stream;
	if (order) {
		const place = (name: string): number => (order.includes(name) ? order.indexOf(name) : order.length);
		readings = readings.sort((a, b) => place(a.name) - place(b.name));
	}
	const meta: Column[] = [];
	if (stream.counter > 0) meta.push({name: 'counter', kind: 'counter', source: analog.length + buttons});
	if (stream.clock !== 'none') meta.push({name: 'clock', kind: 'clock', source: analog.length + buttons + 1});
	return stream.metaFirst ? [...meta, ...readings] : [...readings, ...meta];
}

const encoder = new TextEncoder();

/** Writes frames as the firmware would. */
export class FrameFormat {
	readonly columns: readonly Column[];
	readonly #stream: StreamSpec;
	readonly #labels: readonly string[];
	readonly #decimals: number;
	readonly #parts: string[];

	/** `decimals`: digits after the point of analog values; whole values stay whole where it is 0. */
	constructor(stream: StreamSpec, columns: readonly Column[], decimals: number) {
		this.columns = columns;
		this.#stream = stream;
		this.#decimals = decimals;
		this.#labels = columns.map(({name}) => labelOf(name, stream.labelStyle));
		this.#parts = new Array<string>(columns.length);
	}

	/** The header line, or undefined where the stream has none. */
	header(): Uint8Array | undefined {
		const {header, framing, separator, lineEnd} = this.#stream;
		if (!header || framing !== 'text') return undefined;
		return encoder.encode(this.#labels.join(separator) + lineEnd);
	}

	/** One frame with its end. `values`: analog channels, buttons, counter, clock. */
	frame(values: Float64Array): Uint8Array {
		const {framing} = this.#stream;
		return framing === 'text' || framing === 'json' ? this.#text(values) : this.#packet(values);
	}

	#number(column: Column, value: number): string {
		const {padWidth, pad, unit} = this.#stream;
		if (column.kind !== 'analog') return String(value);
		const text = this.#decimals > 0 ? value.toFixed(this.#decimals) : String(Math.round(value));
		return (padWidth > 0 ? text.padStart(padWidth, pad) : text) + unit;
	}

	#text(values: Float64Array): Uint8Array {
		const {framing, separator, labelMark, brackets, lineEnd} = this.#stream;
		const parts = this.#parts;
		for (let i = 0; i < parts.length; i++) {
			const column = this.columns[i];
			const value = values[column.source];
			if (framing === 'json') {
				const number =
					column.kind === 'analog' && this.#decimals > 0 ? value.toFixed(this.#decimals) : Math.round(value);
				parts[i] = `"${this.#labels[i]}":${number}`;
			} else {
				const number = this.#number(column, value);
				parts[i] = labelMark === null ? number : this.#labels[i] + labelMark + number;
			}
		}
		if (framing === 'json') return encoder.encode(`{${parts.join(',')}}${lineEnd}`);
		const body = parts.join(separator);
		return encoder.encode(brackets ? brackets[0] + body + brackets[1] + lineEnd : body + lineEnd);
	}

	#packet(values: Float64Array): Uint8Array {
		const {framing, crc} = this.#stream;
		const length = this.columns.length * 2;
		const data = new Uint8Array(length + (crc === 'none' ? 0 : 2));
		for (const [i, column] of this.columns.entries()) {
			const value = Math.round(values[column.source]) & 0xffff;
			data[2 * i] = value & 0xff;
			data[2 * i + 1] = value >>> 8;
		}
		if (crc !== 'none') {
			const sum = crc16(crc, data.subarray(0, length));
			data[length] = sum & 0xff;
			data[length + 1] = sum >>> 8;
		}
		return framing === 'slip' ? encodeSlip(data) : encodeCobs(data);
	}
}
