import {describeLine, type LineDescription} from './describe-line.ts';
import {readJsonLine} from './json-line.ts';
import {bytesToText, hexWidth, type LineTokens, readLine, shapeKey, usesDecimalComma} from './line-tokens.ts';
import {type Dialect, plainDialect} from './read-value.ts';

/** Longest line that is looked at as a frame: 256 values with their labels fit. */
const longestFrame = 8192;

/** A whole line kept until it is known what it is. `bytes` is without its end, zero bytes and byte-order marks. */
export type HeldLine = {
	readonly t: number;
	readonly bytes: Uint8Array;
	/** Bytes received for it, with its end. */
	readonly lineBytes: number;
	/** Received bytes before it. */
	readonly offset: number;
	/** The stream's very first line: it may have been joined in its middle. */
	readonly isFirst: boolean;
};

/** One way to read a line. */
export type LineShape = {
	readonly dialect: Dialect;
	readonly tokens: LineTokens;
	readonly description: LineDescription;
	/** Equal for lines of one layout. */
	readonly key: string;
	/** The line shows something that only this dialect explains (a hexadecimal letter, a decimal comma). */
	readonly evident: boolean;
};

/**
 * The ways in which a line can be read as a frame, likeliest first. Which one is right shows only over several lines:
 * a dialect other than the plain one needs a line in which it is `evident`.
 */
export function readShapes(bytes: Uint8Array): LineShape[] {
	if (bytes.length > longestFrame) return [];
	const json = readJsonLine(bytes, 0, bytes.length);
	if (json !== undefined) return [toShape(json, plainDialect, 'json ', true)];
	const text = bytesToText(bytes, 0, bytes.length);
	const shapes: LineShape[] = [];
	const add = (change: Partial<Dialect>, tag: string, isEvident: (tokens: LineTokens) => boolean): void => {
		const dialect = {...plainDialect, ...change};
		const tokens = readLine(bytes, 0, bytes.length, dialect);
		if (tokens === undefined || tokens.values.length === 0) return;
		const shape = toShape(tokens, dialect, tag, isEvident(tokens));
		if (shape.description.frameLike) shapes.push(shape);
	};

	const width = hexWidth(bytes, 0, bytes.length);
	if (width > 0) add({hexDigits: width}, `hex${width} `, tokens => hasHexLetter(tokens, text));
	const hasComma = text.includes(',');
	if (hasComma ? usesDecimalComma(text) : /[;\t| ]/.test(text)) add({decimalComma: true}, 'comma ', () => hasComma);
	add({}, '', () => true);
	if (text.includes('\t')) add({tabIsBlank: true}, 'tab ', () => true);
	if (/[A-Za-z_]\d/.test(text)) add({glued: true}, 'glued ', () => true);
	return shapes;
}

function toShape(tokens: LineTokens, dialect: Dialect, tag: string, evident: boolean): LineShape {
	const description = describeLine(tokens);
	return {dialect, tokens, description, key: tag + keyOf(tokens, description, dialect), evident};
}

/** Where every value has a label of its own the labels make the layout, in whatever order; else the text around the values. */
function keyOf(tokens: LineTokens, {labels, frameLike}: LineDescription, dialect: Dialect): string {
	const own = labels.filter(label => label !== null);
	const distinct = new Set(own).size === labels.length;
	if (frameLike && distinct && labels.length > 1) return `labels ${own.sort().join('\u0000')}`;
	return tokens.paths === undefined ? shapeKey(tokens, dialect) : tokens.paths.join('\u0000');
}

/** Whether a value shows a letter; `1E5` is a number with an exponent as well, so no evidence. */
function hasHexLetter({starts, ends}: LineTokens, text: string): boolean {
	return starts.some((start, i) => {
		const value = text.slice(start, ends[i]);
		return /[a-f]/i.test(value) && !/^\d+e\d+$/i.test(value);
	});
}
