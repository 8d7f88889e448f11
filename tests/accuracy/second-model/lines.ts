import type {Random} from '../../../source/simulator/random.ts';
import type {Take} from './take.ts';

/** How a frame is written. Every layout but the two with names needs the usual order of columns. */
export const layouts = ['comma', 'tab', 'blank', 'semicolon', 'bar', 'brackets', 'labels', 'json'] as const;

export type Layout = (typeof layouts)[number];

/** A line as it came: when, and its text without its end, or bytes that are no text. */
export type Line = {readonly at: number; readonly text: string; readonly bytes?: Uint8Array};

export type Column = {readonly name: string; readonly values: ArrayLike<number>};

export type LineOptions = {
	readonly layout: Layout;
	/** rms of the arrival's delay as a share of the interval; healthy links lie far below 0.12 (check-values D5.4). */
	readonly jitter?: number;
	/** Columns put before the readings: a counter, a clock. */
	readonly before?: readonly Column[];
	/** Put behind the readings. */
	readonly after?: readonly Column[];
};

/** Writes one frame. */
export function writeFrame(names: readonly string[], values: readonly number[], layout: Layout): string {
	switch (layout) {
		case 'comma':
			return values.join(',');
		case 'tab':
			return values.join('\t');
		case 'blank':
			return values.join(' ');
		case 'semicolon':
			return values.join(';');
		case 'bar':
			return values.join(' | ');
		case 'brackets':
			return `[${values.join(', ')}]`;
		case 'labels':
			return names.map((name, i) => `${name}:${values[i]}`).join(' ');
		case 'json':
			return JSON.stringify(Object.fromEntries(names.map((name, i) => [name, values[i]])));
	}
}

/** The frames of a take as lines with the times they arrived at. */
export function linesOf(take: Take, {layout, jitter = 0.02, before = [], after = []}: LineOptions): Line[] {
	const columns: Column[] = [
		...before,
		...[...take.readings, ...take.buttons].map(([name, values]) => ({name, values})),
		...after,
	];
	const names = columns.map(({name}) => name);
	const lines: Line[] = [];
	let last = -1;
	for (let k = 0; k < take.count; k++) {
		const late = Math.abs(take.random.normal(0, jitter));
		const at = Math.max(last + 1e-4, (k + late) / take.rate);
		last = at;
		lines.push({
			at,
			text: writeFrame(
				names,
				columns.map(({values}) => values[k]),
				layout,
			),
		});
	}
	return lines;
}

/** How the program that kept the log wrote the time before each line. */
export const stamps = ['seconds', 'millis', 'clock'] as const;

export type Stamp = (typeof stamps)[number] | 'none';

function stampOf(at: number, stamp: Stamp): string {
	if (stamp === 'none') return '';
	if (stamp === 'seconds') return `${at.toFixed(4)} `;
	if (stamp === 'millis') return `${Math.round(at * 1000)} `;
	const two = (value: number): string => String(Math.floor(value)).padStart(2, '0');
	const s = 9 * 3600 + 840 + at;
	return `${two(s / 3600)}:${two((s / 60) % 60)}:${(s % 60).toFixed(3).padStart(6, '0')} -> `;
}

/** The log that somebody sends. */
export function asLog(lines: readonly Line[], stamp: Stamp): string {
	return lines.map(({at, text}) => `${stampOf(at, stamp)}${text}\n`).join('');
}

export type RecordingOptions = {
	readonly baud?: number | null;
	/** When the recording was stopped, if later than the last line. */
	readonly endsAt?: number;
	readonly events?: readonly {readonly t: number; readonly event: string}[];
};

/** A recording (check-values D6), as a serial port would have brought the lines. */
export function asRecording(
	lines: readonly Line[],
	{baud = 115_200, endsAt, events = []}: RecordingOptions = {},
): string {
	const header = {
		glovebench: 1,
		startedAt: '2026-01-01T00:00:00.000Z',
		source: {kind: 'serial', name: 'bench', timing: 'measured'},
		link: baud === null ? null : {baud},
		sheet: null,
		note: '',
	};
	let bytes = 0;
	const items = lines.map(line => {
		const t = Number(line.at.toFixed(6));
		if (line.bytes) {
			bytes += line.bytes.length;
			return {t, rx64: Buffer.from(line.bytes).toString('base64')};
		}
		const rx = `${line.text}\r\n`;
		bytes += Buffer.byteLength(rx);
		return {t, rx};
	});
	const all = [...items, ...events].sort((a, b) => a.t - b.t);
	const t = Math.max(endsAt ?? 0, all.at(-1)?.t ?? 0);
	return `${[header, ...all, {t, end: true, bytes}].map(line => JSON.stringify(line)).join('\n')}\n`;
}

/** Draws how a log is kept. Layouts that need no names, unless the glove has other fingers than the usual five. */
export function drawForm(random: Random, usual: boolean): {layout: Layout; stamp: Stamp | 'recording'} {
	return {
		layout: usual ? random.pick(layouts) : random.pick(['labels', 'json'] as const),
		stamp: random.weighted([
			['seconds', 3],
			['millis', 2],
			['clock', 2],
			['recording', 2],
			['none', 2],
		] as const),
	};
}
