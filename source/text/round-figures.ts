/** Digits that mean anything in a measured value. */
const measured = 6;

/** Rounds to `digits` significant figures, and drops the zeros that say nothing. What is no finite number stays as it is. */
export function significant(value: number, digits: number): number {
	return Number.isFinite(value) ? Number(value.toPrecision(digits)) : value;
}

/** A copy of plain data with every number rounded to six figures; what is no finite number becomes null, as in JSON. */
export function roundFigures(value: unknown): unknown {
	if (typeof value === 'number') return Number.isFinite(value) ? significant(value, measured) : null;
	if (Array.isArray(value)) return value.map(roundFigures);
	if (typeof value !== 'object' || value === null) return value;
	return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, roundFigures(entry)]));
}
