import {collectVocabulary, type Vocabulary} from './classify-line.ts';
import {describeLine} from './describe-line.ts';
import {readJsonLine} from './json-line.ts';
import type {Framing} from './layout.ts';
import type {LineShape} from './line-shape.ts';
import {compileTemplate, type LineTemplate} from './line-template.ts';
import {readLine} from './line-tokens.ts';

/** A settled text layout: how to read its lines, and what to make of those that do not fit. */
export type TextLayout = {
	readonly framing: Extract<Framing, 'text' | 'json'>;
	readonly key: string;
	/** Columns that a frame must have; differs from the template's only where the user said so. */
	readonly count: number;
	readonly template: LineTemplate | null;
	/** Labels as written in each line, or paths; null where the lines have none. */
	readonly labels: readonly (string | null)[];
	readonly times: readonly boolean[];
	readonly separator: string | null;
	readonly unit: string | null;
	readonly vocabulary: Vocabulary;
};

/** Share of the columns that must carry a unit for the layout to have it. */
const unitShare = 0.5;

/** Makes a layout of the lines' shape. `forcedCount` is the number of columns the user gave, or 0. */
export function toTextLayout(shape: LineShape, forcedCount: number): TextLayout {
	const {tokens, dialect, description} = shape;
	const {values, literals} = tokens;
	const count = forcedCount > 0 ? forcedCount : values.length;
	const vocabulary = {...collectVocabulary(tokens, dialect), count};
	const isJson = tokens.paths !== undefined;
	return {
		framing: isJson ? 'json' : 'text',
		key: shape.key,
		count,
		template: count === values.length ? compileTemplate(tokens, dialect) : null,
		labels: description.labels,
		times: tokens.times,
		separator: isJson || (values.length === 1 && literals.length === 2) ? null : description.separator,
		unit: commonUnit(description.units),
		vocabulary,
	};
}

function commonUnit(units: readonly (string | null)[]): string | null {
	const first = units.find(unit => unit !== null) ?? null;
	return units.filter(unit => unit === first).length >= unitShare * units.length ? first : null;
}

/**
 * Reads a line that the template does not fit but whose labels say what is what: JSON in another order or with texts
 * that change, labels in another order. False where some label is missing or there are none.
 */
export function readByLabels(layout: TextLayout, bytes: Uint8Array, values: Float64Array): boolean {
	if (layout.template === null || layout.labels.some(label => label === null)) return false;
	const tokens =
		layout.framing === 'json'
			? readJsonLine(bytes, 0, bytes.length)
			: readLine(bytes, 0, bytes.length, layout.vocabulary.dialect);
	if (tokens === undefined || tokens.values.length < layout.count) return false;
	if (layout.framing === 'text' && tokens.values.length > layout.count) return false;
	const {labels} = describeLine(tokens);
	const taken = new Set<number>();
	for (const [column, label] of layout.labels.entries()) {
		// Of labels that come twice, each is used once, in order.
		const place = labels.findIndex((own, i) => own === label && !taken.has(i));
		if (place < 0) return false;
		taken.add(place);
		values[column] = tokens.values[place];
	}

	return true;
}
