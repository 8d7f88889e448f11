import {countNonText} from './byte-quality.ts';
import type {BadLineKind} from './frame-sink.ts';
import {bytesToText, type LineTokens, readLine} from './line-tokens.ts';
import type {Dialect} from './read-value.ts';

/** What the lines of a layout consist of besides digits, to tell a damaged frame from a line of something else. */
export type Vocabulary = {
	readonly count: number;
	readonly dialect: Dialect;
	/** Words of the layout's literals, lower case. */
	readonly words: readonly string[];
	/** Other characters of the literals, each once. */
	readonly punctuation: string;
};

const wordPattern = /[A-Za-z_\x80-\xff]+/g;

/** Only so much of a line is looked at: what it is shows long before. */
const longestLook = 4096;

export function collectVocabulary(tokens: LineTokens, dialect: Dialect): Vocabulary {
	const text = tokens.literals.join('\u0000');
	const words = [...new Set((text.match(wordPattern) ?? []).map(word => word.toLowerCase()))];
	const punctuation = [...new Set(text.replace(/[A-Za-z0-9_\s\x80-\xff\u0000]/g, ''))].join('');
	return {count: tokens.values.length, dialect, words, punctuation};
}

/**
 * What a line that is no frame most likely is: a damaged frame, with the kind of damage, or `stray`: something that was
 * never meant as one. Digits in a text are no readings: words that the layout does not have make it stray.
 */
export function classifyLine(bytes: Uint8Array, vocabulary: Vocabulary): BadLineKind | 'stray' {
	const end = Math.min(bytes.length, longestLook);
	if (countNonText(bytes, 0, end) > 0) return 'garbled';
	const text = bytesToText(bytes, 0, end);
	const {known, unknown, lone} = countWords(text, vocabulary);
	if (unknown > 0 && unknown >= known) return 'stray';
	const digits = (text.match(/\d/g) ?? []).length;
	const strange = [...text.replace(/[A-Za-z0-9_\s.+\-\x80-\xff]/g, '')].filter(
		character => !vocabulary.punctuation.includes(character),
	).length;
	if (digits === 0 && known === 0 && (strange > 0 || /[-+.]/.test(text))) return 'stray';
	if (strange > Math.max(2, digits) || startsComment(text, vocabulary)) return 'stray';
	if (strange > 0 || lone > 0) return 'garbled';
	const count = readLine(bytes, 0, end, vocabulary.dialect)?.values.length ?? vocabulary.count + 1;
	if (count > vocabulary.count) return 'merged';
	return count < vocabulary.count ? 'short' : 'garbled';
}

function startsComment(text: string, vocabulary: Vocabulary): boolean {
	const mark = /^\s*(#|\/\/|!)/.exec(text)?.[1] ?? '';
	return mark !== '' && !vocabulary.punctuation.includes(mark[0]);
}

type Words = {
	known: number;
	unknown: number;
	/** Letters alone beside a digit: a byte that went wrong. */
	lone: number;
};

/** A piece of a known word is known: a line cut in a label. */
function countWords(text: string, vocabulary: Vocabulary): Words {
	const count: Words = {known: 0, unknown: 0, lone: 0};
	// Letters of numbers are no words.
	const hexless =
		vocabulary.dialect.hexDigits > 0 ? text.replace(/\b[0-9a-f]+\b/gi, '0') : text.replace(/0x[0-9a-f]+/gi, '0');
	const plain = hexless.replace(/\de[+-]?(?=\d)/gi, '0');
	for (const match of plain.matchAll(wordPattern)) {
		const word = match[0].toLowerCase();
		const isPiece = vocabulary.words.some(own => own.includes(word) && own.length > 1);
		if (vocabulary.words.includes(word) || isPiece || vocabulary.words.some(own => isJoin(word, own))) count.known++;
		else if (/^(?:nan|null|inf|ovf)$/.test(word)) continue;
		else if (word.length === 1 && /^\d|\d$/.test(plain.slice(Math.max(0, match.index - 1), match.index + 2)))
			count.lone++;
		else count.unknown++;
	}

	return count;
}

/** Two labels run into one (`mVlittle`), or a label with a letter too many. */
function isJoin(word: string, own: string): boolean {
	return own.length >= 3 && (word.startsWith(own) || word.endsWith(own)) && word.length <= 2 * own.length + 8;
}
