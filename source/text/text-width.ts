import stringWidth from 'string-width';

/** ASCII, box drawing, blocks and the few signs that we draw and write with ourselves: one column each. */
export const plainText =
	/^[ -~\u2500-\u25FC\u2190-\u2193\u2713\u00B0\u00B5\u00B7\u00B1\u00D7\u03A9\u2013\u2014\u2016\u2018\u2019\u2026\u2212\u2264\u2265]*$/;

/**
 * Columns a text takes on a terminal. East Asian characters of ambiguous width count one, as terminals take them unless
 * told otherwise. Quick for what we draw ourselves and for nearly all that devices say; the rest is looked up in
 * Unicode's tables.
 */
export function textWidth(text: string): number {
	return plainText.test(text) ? text.length : stringWidth(text);
}

/** Made when the first text needs it, which takes ten milliseconds. */
let segmenter: Intl.Segmenter | undefined;

/** The characters of a text as readers count them: marks stay with the letter they stand on. */
export function* charactersOf(text: string): Generator<string> {
	segmenter ??= new Intl.Segmenter();
	for (const {segment} of segmenter.segment(text)) yield segment;
}
