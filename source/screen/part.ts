import type {Row} from './rows.ts';

/** A rectangle of the screen with its rows: longer ones are cut, missing ones stay blank. */
export type Panel = {readonly rows: readonly Row[]; readonly width: number; readonly height: number};

/** What the screen is made of: panels, beside and under each other. */
export type Part = Panel | {readonly across: readonly Part[]} | {readonly down: readonly Part[]};

export function panel(rows: readonly Row[], width: number, height = rows.length): Panel {
	return {rows, width: Math.max(0, width), height: Math.max(0, height)};
}

/** The panels of a part from which something can be seen, in the order in which they are drawn. */
export function panelsOf(part: Part): readonly Panel[] {
	if ('across' in part) return part.across.flatMap(panelsOf);
	if ('down' in part) return part.down.flatMap(panelsOf);
	return part.width > 0 && part.height > 0 ? [part] : [];
}

/** True where two parts differ in nothing but what stands in their panels. */
export function sameShape(a: Part, b: Part): boolean {
	if ('across' in a) return 'across' in b && sameShapes(a.across, b.across);
	if ('down' in a) return 'down' in b && sameShapes(a.down, b.down);
	return 'rows' in b && a.width === b.width && a.height === b.height;
}

function sameShapes(a: readonly Part[], b: readonly Part[]): boolean {
	return a.length === b.length && a.every((part, index) => sameShape(part, b[index]));
}
