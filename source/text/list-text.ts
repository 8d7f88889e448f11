/**
 * Items as a sentence has them; the empty text of no items.
 *
 * @example
 * listText(['thumb', 'index', 'ring']); // => 'thumb, index and ring'
 */
export function listText(items: readonly (string | number)[]): string {
	return items.length < 3 ? items.join(' and ') : `${items.slice(0, -1).join(', ')} and ${items[items.length - 1]}`;
}
