/** Digits that mean anything in a measured value. */
const digits = 6;

/** A copy of plain data with every number rounded to six figures; what is no finite number becomes null, as in JSON. */
export function roundFigures(value: unknown): unknown {
	if (typeof value === 'number') return Number.isFinite(value) ? Number(value.toPrecision(digits)) : null;
	if (Array.isArray(value)) return value.map(roundFigures);
	if (typeof value !== 'object' || value === null) return value;
	return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, roundFigures(entry)]));
}
