import type {LineTokens} from './line-tokens.ts';

/** What the text between the values of a line says about each of them. */
export type LineDescription = {
	/** Label of each value as written, or null. */
	readonly labels: readonly (string | null)[];
	/** Unit behind each value, or null. */
	readonly units: readonly (string | null)[];
	/** What stands between values: `,` `;` tab `|` or a blank; null where only labels do, or in JSON. */
	readonly separator: string | null;
	/** Whether a line like this can be a frame at all: its words are labels and units, as far as one line can tell. */
	readonly frameLike: boolean;
};

const units =
	/^(?:[mkµμu]?v|volts?|[%°]|deg|degrees|[kmµ]?(?:Ω|Ω|ohms?)|counts?|cts|raw|adc|lsb|mm|cm|[mu]?a|pct|percent)$/iu;

/** Units that say nothing: the number is what the converter gave. */
const countUnits = /^(?:counts?|cts|raw|adc|lsb)$/i;

const utf8 = new TextDecoder();
const separators = [',', ';', '|', '\t'];

/** More words than this in one literal make it a sentence. */
const mostWords = 4;

function decode(latin: string): string {
	if (/^[\x00-\x7f]*$/.test(latin)) return latin;
	const text = utf8.decode(Uint8Array.from(latin, character => character.charCodeAt(0)));
	return text.includes('\uFFFD') ? latin : text;
}

/** A label without the punctuation around it. */
function cleanLabel(text: string): string {
	return text.replace(/^[^\p{L}\p{N}_#]+/u, '').replace(/[^\p{L}\p{N}_#\])%]+$/u, '');
}

type Parts = {readonly unit: string; readonly label: string; readonly sign: boolean; readonly words: number};

/** Cuts a literal into what belongs to the value before it and what belongs to the value behind it. */
function cutLiteral(literal: string, isFirst: boolean, isLast: boolean, startsWithLabel: boolean): Parts {
	const text = decode(literal);
	const words: string[] = text.match(/[\p{L}_%°Ω][\p{L}\p{N}_#.%°-]*/gu) ?? [];
	const sign = /[:=]\s*["'([{]*\s*$/.test(text);
	if (isFirst) return {unit: '', label: cleanLabel(text), sign, words: words.length};
	if (isLast) return {unit: cleanUnit(text), label: '', sign: false, words: words.length};
	const cut = text.search(/[,;|\t]/);
	if (cut >= 0) {
		const behind = text.slice(cut + 1);
		const lastCut = Math.max(...separators.map(separator => behind.lastIndexOf(separator)));
		return {
			unit: cleanUnit(text.slice(0, cut)),
			label: cleanLabel(behind.slice(lastCut + 1)),
			sign,
			words: words.length,
		};
	}

	if (words.length === 0) return {unit: '', label: '', sign, words: 0};
	const first = cleanUnit(words[0]);
	if (words.length === 1) {
		// One word between two numbers: the next one's label in lines that begin with one, else the unit.
		const isLabel = sign || (startsWithLabel && !/^\s*[%°]/u.test(text));
		return isLabel
			? {unit: '', label: cleanLabel(text), sign, words: 1}
			: {unit: cleanUnit(text), label: '', sign, words: 1};
	}

	if (units.test(first)) {
		const behind = text.slice(text.indexOf(words[0]) + words[0].length);
		return {unit: first, label: cleanLabel(behind), sign, words: words.length};
	}

	return {unit: '', label: cleanLabel(text), sign, words: words.length};
}

function cleanUnit(text: string): string {
	return text.replace(/[\s"')\]}>]/g, '').replace(/^[([{<]/, '');
}

/** Says what the literals of a text line mean. */
export function describeLine(tokens: LineTokens): LineDescription {
	const {literals, paths} = tokens;
	const count = tokens.values.length;
	if (paths !== undefined)
		return {
			labels: paths.map(decode),
			units: new Array<null>(count).fill(null),
			separator: null,
			frameLike: count > 0,
		};
	const startsWithLabel = /[A-Za-z_\x80-\xff]/.test(literals[0]);
	const parts = literals.map((literal, i) => cutLiteral(literal, i === 0, i === count, startsWithLabel));
	const labels: (string | null)[] = [];
	const foundUnits: (string | null)[] = [];
	for (let i = 0; i < count; i++) {
		const {label} = parts[i];
		labels.push(label === '' || !/[\p{L}_#]/u.test(label) ? null : label);
		foundUnits.push(units.test(parts[i + 1].unit) && !countUnits.test(parts[i + 1].unit) ? parts[i + 1].unit : null);
	}

	return {
		labels: spreadLabels(labels),
		units: foundUnits,
		separator: findSeparator(literals),
		frameLike: isFrameLike(parts, labels, count),
	};
}

/**
 * `F:512,498,600 S:510,512`: a label stands for all values up to the next one, and they get its number. A lone word
 * before all of them (`DATA: 512,498,…`) is a prefix, no label.
 */
function spreadLabels(labels: readonly (string | null)[]): (string | null)[] {
	const labelled = labels.filter(label => label !== null).length;
	if (labelled === labels.length || labelled === 0) return [...labels];
	if (labelled === 1) {
		const only = labels[0];
		const ownValue = only !== null && /^(?:n|nr|no|seq|count|frame|id|t|ms|us|ts|time|millis|micros)\W*$/i.test(only);
		return ownValue ? [...labels] : labels.map(() => null);
	}

	const spread: (string | null)[] = [];
	let group: string | null = null;
	let number = 0;
	for (const [i, label] of labels.entries()) {
		if (label !== null) {
			group = label;
			number = 0;
		}

		const alone = label !== null && (i + 1 === labels.length || labels[i + 1] !== null);
		spread.push(group === null ? null : alone ? group : `${group}.${number}`);
		number++;
	}

	return spread;
}

function findSeparator(literals: readonly string[]): string | null {
	const between = literals.slice(1, -1);
	for (const separator of separators) {
		const holding = between.filter(literal => literal.includes(separator)).length;
		if (holding > 0 && holding >= between.length / 2) return separator;
	}

	return between.some(literal => literal.includes(' ') || literal.includes('\t')) ? ' ' : null;
}

/** Boot text and debug prints have sentences; frames have labels and units, one per value. */
function isFrameLike(parts: readonly Parts[], labels: readonly (string | null)[], count: number): boolean {
	if (count === 0) return false;
	const words = parts.reduce((sum, part) => sum + part.words, 0);
	if (words === 0) return true;
	if (parts.some(part => part.words > mostWords)) return false;
	const labelled = labels.filter(label => label !== null).length;
	const signed = parts.slice(0, count).filter(part => part.sign).length;
	const prefixOnly = parts.slice(1).every(part => part.words === 0 || units.test(part.unit));
	if (labelled <= 1 && prefixOnly && (count >= 3 || signed === 1 || labelled === 0)) return true;
	if (signed >= labelled && labelled > 0) return true;
	// `T 512 I 498 …`: without signs, one plain word before each of several values.
	return labelled === count && count >= 3 && parts.every(part => part.words <= 2);
}
