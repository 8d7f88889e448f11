/**
 * An independent copy of plain state: numbers, strings, typed arrays, arrays, maps, sets and class instances, whose
 * prototypes are kept. References that occur twice are copied once. State holds no functions.
 */
export function deepCopy<T>(value: T, seen = new Map<unknown, unknown>()): T {
	if (typeof value !== 'object' || value === null) return value;
	const known = seen.get(value);
	if (known !== undefined) return known as T;
	if (ArrayBuffer.isView(value)) {
		const copy = (value as unknown as Uint8Array).slice();
		seen.set(value, copy);
		return copy as unknown as T;
	}
	if (Array.isArray(value)) {
		const copy: unknown[] = new Array(value.length);
		seen.set(value, copy);
		for (let i = 0; i < value.length; i++) copy[i] = deepCopy(value[i], seen);
		return copy as T;
	}
	if (value instanceof Map) {
		const copy = new Map<unknown, unknown>();
		seen.set(value, copy);
		for (const [key, entry] of value) copy.set(deepCopy(key, seen), deepCopy(entry, seen));
		return copy as T;
	}
	if (value instanceof Set) {
		const copy = new Set<unknown>();
		seen.set(value, copy);
		for (const entry of value) copy.add(deepCopy(entry, seen));
		return copy as T;
	}
	const copy = Object.create(Object.getPrototypeOf(value)) as Record<string, unknown>;
	seen.set(value, copy);
	for (const [key, entry] of Object.entries(value)) copy[key] = deepCopy(entry, seen);
	return copy as T;
}
