/** A number in a line, with the label before it and the unit after it. */
export type NumberToken = {
	readonly value: number;
	/** Label as written (`thumb`, `b1`), or '' where there is none. For JSON the path of keys (`stick.x`, `fingers.0`). */
	readonly label: string;
	readonly unit: string;
	/** Place of the number in the line. */
	readonly start: number;
	readonly end: number;
};

export type LineTokens = {
	readonly numbers: readonly NumberToken[];
	/** The line with every number replaced by `#` and blanks left out where punctuation separates anyway. */
	readonly shape: string;
	/** Words that belong to no number. */
	readonly words: readonly string[];
	readonly decimalComma: boolean;
	readonly json: boolean;
};

export type TokenStyle = {readonly decimalComma: boolean; readonly hex: boolean};

const numberPattern = /[+-]?(?:0x[0-9a-f]+|(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)/iy;
const commaNumberPattern = /[+-]?(?:0x[0-9a-f]+|(?:\d+(?:[.,]\d+)?)(?:e[+-]?\d+)?)/iy;
/** Behind a letter that is its label (`T512E40`), a number has no exponent. */
const gluedNumberPattern = /[+-]?(?:\d+(?:\.\d+)?|\.\d+)/y;
/** What printing functions write where there is no number. */
const noNumberPattern = /[+-]?(?:nan|inf(?:inity)?|ovf|null|n\/a)(?![\w.]|[ \t]*[:=])/iy;
const hexPattern = /[0-9a-f]{2,8}(?![0-9a-z])/iy;
const labelPattern =
	/["']?((?:[\p{L}_]|#(?=\p{L}))[\p{L}\p{N}_#.-]*(?:[ ]\p{L}[\p{L}\p{N}]*){0,2}(?:[ ]\p{N}{1,2})?(?:[ ]?[[(][\p{L}%°]{1,6}[\])])?)["']?[ \t]*(?:=>|->|[:=>])[ \t]*/uy;
const wordPattern = /(?:[\p{L}_]|#(?=\p{L}))[\p{L}\p{N}_]*/uy;
/** Units; the one-letter ones only where no number follows, since they may be its label. */
const unitPattern =
	/[ \t]?(mV|kΩ|Ω|ohms?|%|°C?|deg|counts|cts|raw|[mµu]s|mm)(?![\p{L}\p{N}])|(V|s)(?![\p{L}\p{N}])|[ \t](V|s)(?![\p{L}\p{N}]|[ \t]*[:=]|[ \t]+[+-]?[\d.])/uy;
/** What is written for a button or a flag; only behind a label, or alone between separators. */
const flagPattern =
	/(?:(true|on|high|yes|pressed|down|closed)|(?:false|off|low|no|released|up|open))(?![\p{L}\p{N}_]|[ \t]*[:=])/iuy;
/** Letters that end a frame (`S512,498E`). */
const endMarkPattern = /[\p{L}]{1,3}(?=\s*$)/uy;
/** A label that begins right behind the number before it (`T512I498`, `t:512i:498`). */
const tailLabelPattern = /[\p{L}_]+(?=[+-]?\d|[ \t]*[:=])/uy;

/**
 * Whether commas in a line are decimal commas: another separator stands between the fields (semicolon, tab, bar, or
 * blanks), and every comma stands between two digits, at most once per field.
 */
export function usesDecimalComma(line: string): boolean {
	if (!line.includes(',') || /,\s|\s,|,,|,$/.test(line)) return false;
	const fields = line
		.trim()
		.split(/[;\t|]|\s+/)
		.filter(field => field !== '');
	if (fields.length < 2) return false;
	const withComma = fields.filter(field => field.includes(','));
	return withComma.length >= 0.6 * fields.length && withComma.every(field => /^[^,]*\d,\d+\D*$/.test(field));
}

/** Cuts a line into numbers with their labels and units, and what is left. JSON objects are taken apart as JSON. */
export function readLine(line: string, style?: TokenStyle): LineTokens {
	const trimmed = line.trim();
	if (trimmed.startsWith('{') && trimmed.endsWith('}')) {
		const json = readJson(line, trimmed);
		if (json !== undefined) return json;
	}
	const decimalComma = style?.decimalComma ?? usesDecimalComma(line);
	const usual = style?.hex ? hexPattern : decimalComma ? commaNumberPattern : numberPattern;
	const numbers: NumberToken[] = [];
	const words: string[] = [];
	let shape = '';
	let label = '';
	let glued = false;
	let at = 0;
	while (at < line.length) {
		labelPattern.lastIndex = at;
		noNumberPattern.lastIndex = at;
		const beside = at > 0 && /[\p{L}\p{N}_.]/u.test(line[at - 1]);
		const none = style?.hex || beside ? null : noNumberPattern.exec(line);
		if (none !== null) {
			const end = noNumberPattern.lastIndex;
			numbers.push({value: Number.NaN, label, unit: '', start: at, end});
			shape += '#';
			label = '';
			glued = false;
			at = end;
			continue;
		}
		flagPattern.lastIndex = at;
		const flag = style?.hex || beside ? null : flagPattern.exec(line);
		if (flag !== null && (label !== '' || standsAlone(line, at, flagPattern.lastIndex))) {
			const end = flagPattern.lastIndex;
			numbers.push({value: flag[1] === undefined ? 0 : 1, label, unit: '', start: at, end});
			shape += '#';
			label = '';
			glued = false;
			at = end;
			continue;
		}
		// `512-498`: between two digits it separates.
		if ((line[at] === '-' || line[at] === '+') && /\d/.test(line[at - 1] ?? '')) {
			shape += line[at++];
			continue;
		}
		const labelled = style?.hex ? null : labelPattern.exec(line);
		if (labelled !== null) {
			glued = false;
			if (label !== '') words.push(label);
			label = labelled[1].replace(/-$/, '');
			shape += `${label}:`;
			at = labelPattern.lastIndex;
			continue;
		}
		const pattern = glued && !decimalComma && !/^0x/i.test(line.slice(at, at + 2)) ? gluedNumberPattern : usual;
		pattern.lastIndex = at;
		const number = pattern.exec(line);
		if (number !== null && pattern.lastIndex > at) {
			const end = pattern.lastIndex;
			glued = false;
			unitPattern.lastIndex = end;
			const unit = unitPattern.exec(line);
			const text = number[0];
			const after = line[end];
			// `3D`, `10ms`: letters glued to a number make it a word unless they are a unit.
			tailLabelPattern.lastIndex = end;
			const tailLabel = label !== '' && tailLabelPattern.test(line);
			endMarkPattern.lastIndex = end;
			const endMark = numbers.length > 0 && unit === null && endMarkPattern.test(line);
			if (endMark) {
				numbers.push({value: toNumber(text, decimalComma, style?.hex === true), label, unit: '', start: at, end});
				shape += `#${line.slice(end).trim()}`;
				break;
			}
			if (unit === null && after !== undefined && /[\p{L}_]/u.test(after) && !style?.hex && !tailLabel) {
				wordPattern.lastIndex = end;
				const tail = wordPattern.exec(line);
				words.push(text + (tail?.[0] ?? ''));
				shape += text + (tail?.[0] ?? '');
				at = tail === null ? end : wordPattern.lastIndex;
				label = '';
				continue;
			}
			const unitText = unit?.[1] ?? unit?.[2] ?? unit?.[3] ?? '';
			numbers.push({
				value: toNumber(text, decimalComma, style?.hex === true),
				label,
				unit: unitText,
				start: at,
				end,
			});
			shape += `#${unitText}`;
			label = '';
			at = unit === null ? end : unitPattern.lastIndex;
			continue;
		}
		wordPattern.lastIndex = at;
		const word = wordPattern.exec(line);
		if (word !== null) {
			const next = line.slice(wordPattern.lastIndex).trimStart();
			// `f1 512`: a label with blanks after it, unless `T1 I2` has its number in the label.
			if (/^[+-]?(?:\.?\d|nan\b|inf\b)/i.test(next) && /[ \t]/.test(line[wordPattern.lastIndex] ?? '')) {
				label = word[0];
				shape += `${label} `;
				at = wordPattern.lastIndex;
				while (line[at] === ' ' || line[at] === '\t') at++;
				continue;
			}
			// `T512`: a label without a sign after it.
			const stuck = /^([\p{L}_]+)\d/u.exec(word[0]);
			if (stuck !== null && (/^[\p{L}_]+\d+$/u.test(word[0]) || /^(?:[\p{L}_]+\d+){2,}$/u.test(word[0]))) {
				label = stuck[1];
				shape += label;
				at += label.length;
				glued = true;
				continue;
			}
			// `T-12`: with a sign between.
			if (/^[\p{L}]{1,6}$/u.test(word[0]) && /^[+-]\d/.test(line.slice(wordPattern.lastIndex))) {
				label = word[0];
				shape += label;
				at = wordPattern.lastIndex;
				glued = true;
				continue;
			}
			words.push(word[0]);
			shape += word[0];
			at = wordPattern.lastIndex;
			label = '';
			continue;
		}
		const character = line[at];
		if (character === ' ') {
			// Blanks only count where nothing else separates two numbers.
			const next = line.slice(at).trimStart()[0] ?? '';
			if (/[\p{L}\p{N}+\-.]/u.test(next) && /[#\p{L}%°]$/u.test(shape)) shape += ' ';
			while (line[at] === ' ') at++;
			continue;
		}
		shape += character;
		at++;
	}
	return {numbers, shape: shape.trim(), words, decimalComma, json: false};
}

/** Whether nothing but separators or the line's ends stand on both sides, and a separator on one. */
function standsAlone(line: string, start: number, end: number): boolean {
	const before = line.slice(0, start).trimEnd().at(-1) ?? '';
	const after = line.slice(end).trimStart()[0] ?? '';
	return /^[,;|\t[(]?$/.test(before) && /^[,;|\t\])]?$/.test(after) && before + after !== '';
}

/** Value of a number's text; NaN for `nan`, `inf` and the like. */
export function toNumber(text: string, decimalComma: boolean, hex: boolean): number {
	if (hex) return Number.parseInt(text, 16);
	const plain = decimalComma ? text.replace(',', '.') : text;
	const value =
		/^[+-]/.test(plain) && /0x/i.test(plain) ? Number(plain.slice(1)) * (plain[0] === '-' ? -1 : 1) : Number(plain);
	return Number.isFinite(value) ? value : Number.NaN;
}

function readJson(line: string, trimmed: string): LineTokens | undefined {
	let parsed: unknown;
	try {
		parsed = JSON.parse(trimmed);
	} catch {
		return undefined;
	}
	const numbers: NumberToken[] = [];
	collect(parsed, '', numbers);
	if (numbers.length === 0) return undefined;
	const shape = `json ${numbers
		.map(number => number.label)
		.sort()
		.join(' ')}`;
	return {numbers, shape, words: [], decimalComma: false, json: line.length > 0};
}

function collect(value: unknown, path: string, into: NumberToken[]): void {
	if (typeof value === 'number' || typeof value === 'boolean' || value === null) {
		const number = value === null ? Number.NaN : Number(value);
		into.push({value: number, label: path, unit: '', start: 0, end: 0});
	} else if (typeof value === 'string') {
		// Some senders quote their numbers; other strings are names.
		if (/^[+-]?\d+(?:\.\d+)?$/.test(value)) into.push({value: Number(value), label: path, unit: '', start: 0, end: 0});
	} else if (Array.isArray(value)) {
		for (const [i, entry] of value.entries()) collect(entry, path === '' ? String(i) : `${path}.${i}`, into);
	} else if (typeof value === 'object') {
		for (const [key, entry] of Object.entries(value as object))
			collect(entry, path === '' ? key : `${path}.${key}`, into);
	}
}
