import type {Channel, Layout} from './layout.ts';
import {type LineTokens, readLine} from './line-tokens.ts';
import {type ColumnFacts, nameChannels} from './name-channels.ts';
import {compileTemplate, type Template} from './template.ts';

/** A line kept until the layout is known. */
export type Sample = {
	readonly text: string;
	readonly t: number;
	readonly lineBytes: number;
	readonly offset: number;
	readonly tokens: LineTokens;
	/** The very first line may have been joined in its middle. */
	readonly first: boolean;
};

/** A settled text layout with what is needed to decode lines by it. */
export type TextLayout = {
	readonly layout: Layout;
	readonly template: Template | undefined;
	readonly shape: string;
	readonly hex: boolean;
	readonly decimalComma: boolean;
	/** Column of each label; empty for unlabelled lines. */
	readonly labels: ReadonlyMap<string, number>;
	readonly facts: readonly ColumnFacts[];
};

/** Lines that must agree before a layout is believed: with labels each line tells a lot, without roles need some time. */
export const linesWithLabels = 5;
export const linesWithout = 20;
export const linesWithoutAtLeast = 8;

/** What makes two lines the same layout: the set of labels, or the line's shape. */
export function kindOf(tokens: LineTokens): string {
	const {numbers} = tokens;
	if (numbers.length === 0) return '';
	if (numbers.every(number => number.label !== '')) {
		return `labels ${numbers
			.map(number => number.label)
			.sort()
			.join('|')}`;
	}
	return tokens.shape;
}

/** The largest group of samples of one kind, newest kind first among equals. */
export function largestGroup(samples: readonly Sample[]): readonly Sample[] {
	const groups = new Map<string, Sample[]>();
	for (const sample of samples) {
		const kind = kindOf(sample.tokens);
		// Start-up text has numbers too, but words as well.
		if (kind === '' || sample.tokens.words.length > sample.tokens.numbers.length) continue;
		groups.set(kind, [...(groups.get(kind) ?? []), sample]);
	}
	let best: readonly Sample[] = [];
	for (const group of groups.values()) if (group.length >= best.length) best = group;
	return best;
}

/**
 * Whether the samples are columns of bare hexadecimal: fields of one width throughout, with letters somewhere and digits
 * too. Decimal numbers of a varying width are none.
 */
export function looksHex(samples: readonly Sample[]): boolean {
	let fitting = 0;
	let letters = 0;
	let width = 0;
	let count = 0;
	for (const {text} of samples) {
		const fields = text.trim().split(/[\s,;|]+/);
		if (fields.length < 2 || !fields.every(field => /^[0-9a-f]{2,8}$/i.test(field))) continue;
		if (width === 0) {
			width = fields[0].length;
			count = fields.length;
		}
		if (fields.length !== count || fields.some(field => field.length !== width)) continue;
		fitting++;
		if (fields.some(field => /[a-f]/i.test(field))) letters++;
	}
	return fitting >= Math.max(5, 0.8 * samples.length) && letters >= 2;
}

/**
 * Settles a layout on a group of lines of one kind. `header` is a line of names that came before, `timed` tells whether
 * the samples' times mean anything. `names` replaces all names and roles (`--layout`).
 */
export function settle(
	group: readonly Sample[],
	header: string | undefined,
	timed: boolean,
	hex: boolean,
	names?: readonly Channel[],
): TextLayout {
	const model = group[group.length - 1];
	const {tokens} = model;
	const labelled = tokens.numbers.every(number => number.label !== '');
	const headerNames = labelled ? undefined : splitHeader(header, tokens.numbers.length);
	const labels = new Map<string, number>();
	if (labelled) for (const [i, number] of tokens.numbers.entries()) labels.set(number.label, i);
	const distinct = labels.size === tokens.numbers.length;
	const rows = group.map(sample => valuesOf(sample.tokens, labelled && distinct ? labels : undefined));
	const facts = tokens.numbers.map(
		(number, i): ColumnFacts => ({
			label: labelled ? number.label : (headerNames?.[i] ?? ''),
			values: rows.map(row => row[i]),
		}),
	);
	const times = group.map(sample => sample.t);
	const channels = names ?? nameChannels(facts, times, timed);
	const units = new Set(tokens.numbers.map(number => number.unit));
	const unit = units.size === 1 ? ([...units][0] ?? '') : '';
	const layout: Layout = {
		framing: tokens.json ? 'json' : 'text',
		separator: labelled || tokens.json ? null : separatorOf(model),
		labelled: labelled || headerNames !== undefined,
		checksum: null,
		unit: unit === '' || /^(counts|cts|raw)$/.test(unit) ? null : unit,
		channels,
	};
	return {
		layout,
		template: compileTemplate(model.text, tokens, hex),
		shape: tokens.shape,
		hex,
		decimalComma: tokens.decimalComma,
		labels: labelled && distinct ? labels : new Map(),
		facts,
	};
}

/** Values of a line's numbers in the order of the layout's columns. */
export function valuesOf(tokens: LineTokens, labels?: ReadonlyMap<string, number>): number[] {
	if (labels === undefined || labels.size === 0) return tokens.numbers.map(number => number.value);
	const row = new Array<number>(labels.size).fill(Number.NaN);
	for (const number of tokens.numbers) {
		const column = labels.get(number.label);
		if (column !== undefined) row[column] = number.value;
	}
	return row;
}

/** Decodes a line that the template could not; undefined where it is no frame of the layout. */
export function decodeSlowly(text: string, settled: TextLayout): {values?: number[]; tokens: LineTokens} {
	const tokens = readLine(text, {decimalComma: settled.decimalComma, hex: settled.hex});
	const {labels, layout} = settled;
	if (tokens.numbers.length !== layout.channels.length || tokens.words.length > 0) return {tokens};
	if (labels.size > 0) {
		const seen = new Set(tokens.numbers.map(number => number.label));
		if (seen.size === labels.size && [...seen].every(label => labels.has(label)))
			return {values: valuesOf(tokens, labels), tokens};
		return {tokens};
	}
	return tokens.shape === settled.shape ? {values: valuesOf(tokens), tokens} : {tokens};
}

function separatorOf(sample: Sample): string | null {
	const {numbers} = sample.tokens;
	if (numbers.length < 2) return null;
	const between = sample.text.slice(numbers[0].end, numbers[1].start);
	for (const separator of [',', ';', '|', '\t']) if (between.includes(separator)) return separator;
	return between.trim() === '' ? ' ' : between.trim()[0];
}

/** Names of a header line (RFC 4180 quoting allowed); undefined where their number differs from the columns'. */
function splitHeader(header: string | undefined, columns: number): string[] | undefined {
	if (header === undefined) return undefined;
	for (const separator of [',', ';', '\t', '|', /\s+/]) {
		const names = header
			.trim()
			.split(separator)
			.map(name =>
				name
					.trim()
					.replace(/^"(.*)"$/, '$1')
					.replaceAll('""', '"'),
			);
		if (names.length === columns && names.every(name => /\p{L}/u.test(name))) return names;
	}
	return undefined;
}
