/**
 * Breaks a paragraph at its spaces into lines of at most `width` characters; a longer word gets a line of its own.
 * The first line starts with `first`, the others with `rest` (spaces as wide as `first` unless given), both counted.
 *
 * @example
 * wrapText('one two three', 8, '- '); // => ['- one', '  two', '  three']
 */
export function wrapText(text: string, width: number, first = '', rest = ' '.repeat(first.length)): string[] {
	const lines: string[] = [];
	let line = first;
	let isEmpty = true;
	for (const word of keepTogether(text)
		.split(/[ \n\t]+/)
		.filter(Boolean)) {
		if (!isEmpty && line.length + 1 + word.length > width) {
			lines.push(line);
			line = rest;
			isEmpty = true;
		}
		line += isEmpty ? word : ` ${word}`;
		isEmpty = false;
	}
	lines.push(line.trimEnd());
	return lines.map(each => each.replaceAll('\u00A0', ' '));
}

/** A number parted from its unit or its thousands reads as another number: a space that holds binds them. */
function keepTogether(text: string): string {
	return text.replace(
		/(?<=\d) (?=(?:%|°|[kM]?Ω|[kMG]?(?:Hz|bit)|[mµ]?[sAVW]|mAh|mm|[nµp]F|\d{3})(?![\p{L}\d]))/gu,
		'\u00A0',
	);
}
