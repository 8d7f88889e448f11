import {charactersOf, plainText, textWidth} from './text-width.ts';

/** The first `width` columns of a text; a wide character that would be halved is left out. */
export function cutText(text: string, width: number): string {
	if (width <= 0) return '';
	if (plainText.test(text)) return text.slice(0, width);
	let cut = '';
	let used = 0;
	for (const character of charactersOf(text)) {
		used += textWidth(character);
		if (used > width) break;
		cut += character;
	}

	return cut;
}

/** A text of at most `width` columns; where something had to go, `ellipsis` stands at the end. */
export function shorten(text: string, width: number, ellipsis: string): string {
	if (textWidth(text) <= width) return text;
	return cutText(text, width - ellipsis.length) + cutText(ellipsis, width);
}

/** Exactly `width` columns, the text at the left. */
export function fitLeft(text: string, width: number, ellipsis = ''): string {
	const fitted = shorten(text, width, ellipsis);
	return fitted + ' '.repeat(Math.max(0, width - textWidth(fitted)));
}

/** Exactly `width` columns, the text at the right: for numbers under each other. */
export function fitRight(text: string, width: number): string {
	const fitted = cutText(text, width);
	return ' '.repeat(Math.max(0, width - textWidth(fitted))) + fitted;
}

/** Breaks a text into lines of at most `width` columns, at spaces where there are any. */
export function wrapText(text: string, width: number): string[] {
	if (width <= 0) return [];
	const lines: string[] = [];
	let line = '';
	for (let word of text.split(/\s+/).filter(Boolean)) {
		while (textWidth(word) > width) {
			if (line) lines.push(line);
			line = '';
			const head = cutText(word, width) || [...word][0];
			lines.push(head);
			word = word.slice(head.length);
		}

		if (!word) continue;
		const longer = line ? `${line} ${word}` : word;
		if (textWidth(longer) <= width) {
			line = longer;
		} else {
			lines.push(line);
			line = word;
		}
	}

	if (line) lines.push(line);
	return lines;
}
