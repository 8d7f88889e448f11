import stringWidth from 'string-width';

/** ASCII, box drawing, blocks and the few signs the dashboard draws with: one column each. */
export const plainText = /^[ -~\u2500-\u25FC\u2190-\u2193\u2713\u00B7\u00B1\u2013\u2016\u2026]*$/;

/**
 * Columns a text takes on a terminal. East Asian characters of ambiguous width count one, as terminals take them unless
 * told otherwise. Quick for what the dashboard itself draws; the rest is looked up in Unicode's tables.
 */
export function textWidth(text: string): number {
	return plainText.test(text) ? text.length : stringWidth(text);
}
