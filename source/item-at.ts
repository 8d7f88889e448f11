/**
 * The item at a place where the caller knows one to be. Throws a `RangeError`, which is a defect and not for the user,
 * where there is none. For lists whose items are never `undefined`.
 */
export function itemAt<T>(items: {readonly length: number; readonly [index: number]: T}, index: number): T {
	const item = items[index];
	if (item === undefined) throw new RangeError(`Nothing stands at place ${index} of ${items.length}.`);
	return item;
}
