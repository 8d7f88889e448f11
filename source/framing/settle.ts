import {readHeader} from './header-names.ts';
import {readLabel, unitInName} from './label-roles.ts';
import type {Channel, Layout} from './layout.ts';
import {type LineTokens, readLine, type TokenStyle} from './line-tokens.ts';
import {type ColumnFacts, nameChannels} from './name-channels.ts';
import {isBootLine} from './start-up-lines.ts';
import {compileTemplate, type Template} from './template.ts';

/** A line kept until the layout is known. */
export type Sample = {
	/** Without the control sequences of a terminal, which are kept in `raw`. */
	readonly text: string;
	readonly raw: string;
	readonly t: number;
	readonly lineBytes: number;
	readonly offset: number;
	readonly tokens: LineTokens;
	/** What `kindOf` says of it. */
	readonly kind: string;
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
	/** Words that belong to no number in each line. */
	readonly wordCount: number;
	/** Most digits in a row that a number of the first lines had: more of them are two numbers run together. */
	readonly mostDigits: number;
};

/** Lines that must agree before a layout is believed: with labels each line tells a lot, without roles need some time. */
export const linesWithLabels = 5;
export const linesWithout = 20;
export const linesWithoutAtLeast = 8;

/** Words by which two boards on one line tell themselves apart. */
const boardWords = /^(l|r|left|right|lh|rh|(?:hand|board|node|glove|dev|device)\d*|[lr]_?hand)$/i;

/** What makes two lines the same layout: the set of labels, or the line's shape. */
export function kindOf(tokens: LineTokens): string {
	const {numbers} = tokens;
	if (numbers.length === 0) return '';
	if (numbers.every(number => number.label !== '')) {
		const board = tokens.words.filter(word => boardWords.test(word)).join(' ');
		return `${tokens.json ? 'json' : 'labels'} ${board} ${numbers
			.map(number => number.label)
			.sort()
			.join('|')}`;
	}
	return tokens.shape;
}

/** A line as it is kept until the layout is known. */
export function sampleOf(line: Omit<Sample, 'tokens' | 'kind'>, style?: TokenStyle): Sample {
	const tokens = readLine(line.text, style);
	return {...line, tokens, kind: kindOf(tokens)};
}

/** Whether a line could be a frame at all: start-up text has numbers too, but it is known, or has more words than numbers. */
export function couldBeFrame({tokens, kind, text}: Sample): boolean {
	return kind !== '' && tokens.words.length <= tokens.numbers.length && !isBootLine(text);
}

/** Whether a label has two meanings that more lines will tell apart: `t` is the thumb or the time. */
export function isUndecided(group: readonly Sample[]): boolean {
	const column = group[0].tokens.numbers.findIndex(number => /^t$/i.test(number.label));
	if (column < 0) return false;
	const {label} = group[0].tokens.numbers[column];
	const values = group.map(({tokens}) => tokens.numbers.find(number => number.label === label)?.value ?? 0);
	return values.every((value, i) => i === 0 || value > values[i - 1]);
}

/** The largest group of samples of one kind, newest kind first among equals. */
export function largestGroup(samples: readonly Sample[]): readonly Sample[] {
	const groups = new Map<string, Sample[]>();
	for (const sample of samples) {
		if (!couldBeFrame(sample)) continue;
		const group = groups.get(sample.kind);
		if (group === undefined) groups.set(sample.kind, [sample]);
		else group.push(sample);
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
 * Settles a layout on a group of lines of one kind. `headers` are lines that came before, one of which may hold the columns' names, `timed` tells whether
 * the samples' times mean anything. `names` replaces all names and roles (`--layout`).
 */
export function settle(
	group: readonly Sample[],
	headers: readonly string[],
	timed: boolean,
	hex: boolean,
	names?: readonly Channel[],
): TextLayout {
	const model = group[group.length - 1];
	const {tokens} = model;
	const labelled = tokens.numbers.every(number => number.label !== '');
	const headerNames = labelled ? undefined : namesAmong(headers, tokens.numbers.length);
	const partial = labelled ? [] : labelsOfRuns(tokens);
	const labels = new Map<string, number>();
	if (labelled) for (const [i, number] of tokens.numbers.entries()) labels.set(number.label, i);
	const distinct = labels.size === tokens.numbers.length;
	const rows = group.map(sample => valuesOf(sample.tokens, labelled && distinct ? labels : undefined));
	const facts = tokens.numbers.map(
		(number, i): ColumnFacts => ({
			label: labelled ? number.label : (headerNames?.[i] ?? partial[i]),
			values: rows.map(row => row[i]),
		}),
	);
	const times = group.map(sample => sample.t);
	const channels = names ?? nameChannels(facts, times, timed);
	const units = new Set(
		channels
			.filter(({role}) => role === 'finger' || role === 'stick')
			.map(({index}) => tokens.numbers[index].unit || unitInName(facts[index].label)),
	);
	const unit = units.size === 1 ? ([...units][0] ?? '') : '';
	const layout: Layout = {
		framing: tokens.json ? 'json' : 'text',
		separator: labelled || tokens.json ? null : separatorOf(model),
		labelled: labelled || headerNames !== undefined || partial.some(label => label !== ''),
		checksum: null,
		unit: unit === '' || /^(counts|cts|raw|s|[mµu]s)$/.test(unit) ? null : unit,
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
		wordCount: tokens.words.length,
		mostDigits: Math.max(...group.map(sample => longestDigits(sample.text))),
	};
}

/**
 * Labels of a line in which only some numbers have one. `fingers: 512 498 stick: 500 510` numbers its columns,
 * `thumb: 512 (1650 mV)` says the same thing twice, and `seq 17 512 498` labels the first only.
 */
function labelsOfRuns({numbers}: LineTokens): string[] {
	const labels: string[] = [];
	for (let at = 0; at < numbers.length; ) {
		const {label} = numbers[at];
		let end = at + 1;
		while (end < numbers.length && numbers[end].label === '') end++;
		const numbered = end - at > 1 && label !== '' ? readLabel(`${label}.0`) : undefined;
		const named = label === '' ? undefined : readLabel(label);
		for (let i = at; i < end; i++) {
			const first = i === at;
			if (numbered !== undefined && (numbered.family !== '' || numbered.role === 'button'))
				labels.push(`${label}.${i - at}`);
			else if (named === undefined || named.family !== '') labels.push(end - at === 1 ? label : '');
			else if (first) labels.push(label);
			else labels.push(named.role === 'finger' || named.role === 'stick' ? 'extra' : '');
		}
		at = end;
	}
	return labels;
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

/** Length of the longest run of digits in a line. */
export function longestDigits(text: string): number {
	let most = 0;
	for (const run of text.match(/\d+/g) ?? []) most = Math.max(most, run.length);
	return most;
}

/** Decodes a line that the template could not; undefined where it is no frame of the layout. */
export function decodeSlowly(text: string, settled: TextLayout): {values?: number[]; tokens: LineTokens} {
	const tokens = readLine(text, {decimalComma: settled.decimalComma, hex: settled.hex});
	const {labels, layout} = settled;
	if (tokens.json !== (layout.framing === 'json')) return {tokens};
	if (tokens.numbers.length !== layout.channels.length) {
		const values = labels.size === 0 ? withGaps(text, settled) : undefined;
		return values === undefined ? {tokens} : {values, tokens};
	}
	if (labels.size > 0) {
		if (tokens.words.length !== settled.wordCount) return {tokens};
		const seen = new Set(tokens.numbers.map(number => number.label));
		if (seen.size === labels.size && [...seen].every(label => labels.has(label)))
			return {values: valuesOf(tokens, labels), tokens};
		return {tokens};
	}
	return tokens.shape === settled.shape ? {values: valuesOf(tokens), tokens} : {tokens};
}

/** Values of a separated line in which fields are empty: those are NaN. At least half of the fields must be there. */
function withGaps(text: string, {layout, shape, decimalComma, hex}: TextLayout): number[] | undefined {
	const {separator} = layout;
	if (separator === null || separator === ' ' || !/^[#,;|\t]+$/.test(shape)) return undefined;
	const lead = shape.startsWith(separator);
	const trail = shape.endsWith(separator);
	const fields = text.replace(/^ +| +$/g, '').split(separator);
	if (lead) fields.shift();
	if (trail) fields.pop();
	if (fields.length !== layout.channels.length) return undefined;
	const values: number[] = [];
	for (const field of fields) {
		if (field.trim() === '') {
			values.push(Number.NaN);
			continue;
		}
		const {numbers, words} = readLine(field, {decimalComma, hex});
		if (numbers.length !== 1 || words.length > 0) return undefined;
		values.push(numbers[0].value);
	}
	return values.filter(value => !Number.isNaN(value)).length >= values.length / 2 ? values : undefined;
}

function namesAmong(headers: readonly string[], columns: number): string[] | undefined {
	for (let i = headers.length - 1; i >= 0; i--) {
		const names = readHeader(headers[i], columns);
		if (names !== undefined) return names;
	}
	return undefined;
}

function separatorOf(sample: Sample): string | null {
	const {numbers} = sample.tokens;
	if (numbers.length < 2) return null;
	const {unit} = numbers[0];
	let between = sample.text.slice(numbers[0].end, numbers[1].start);
	if (unit !== '' && between.trimStart().startsWith(unit)) between = between.trimStart().slice(unit.length);
	for (const separator of [',', ';', '|', '\t']) if (between.includes(separator)) return separator;
	return between.trim() === '' ? ' ' : between.trim()[0];
}
