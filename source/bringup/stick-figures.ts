import type {Channel} from '../framing/layout.ts';
import {meanOf} from '../math/sums.ts';
import type {Assignment} from './assign-channels.ts';
import type {KeptPull, StepRecord} from './step-record.ts';
import {type StickSide, stickSides} from './steps.ts';

/** One axis as it was found. */
type AxisFigures = Assignment & {
	/** +1: the reading rises to the right, or towards you. 0: not known. */
	readonly direction: -1 | 0 | 1;
	/** Mean reading at rest; null before any. */
	readonly centre: number | null;
	/** Farthest reach from the rest point, in the unit of the readings. */
	readonly low: number | null;
	readonly high: number | null;
};

export type StickFigures = {
	readonly x: AxisFigures;
	readonly y: AxisFigures;
	/** How far the rest point is off the middle of the scale, the worse axis, percent of full scale. */
	readonly offCentrePercent: number | null;
	/** Farthest that a release was from the mean one, percent of full scale. */
	readonly scatterPercent: number | null;
	/** Shortest reach from the middle of the scale, percent of half scale; null before two turns. */
	readonly reachPercent: number | null;
	/** Sides that something answered for. */
	readonly sides: readonly StickSide[];
};

const sidesOf = {x: ['right', 'left'], y: ['down', 'up']} as const;

/** What the steps say about the stick; null where there is none. `railLow` and `fullScale` in the unit of the readings. */
export function stickFigures(
	channels: readonly Channel[],
	records: readonly StepRecord[],
	railLow: number,
	fullScale: number,
): StickFigures | null {
	const columns = (['stick-x', 'stick-y'] as const).map(name => channels.find(channel => channel.name === name)?.index);
	const [columnX, columnY] = columns;
	if (columnX === undefined || columnY === undefined) return null;
	const answers = answersOf(records);
	const isSwapped = areSwapped(answers, columnX, columnY);
	const reaches = records.find(({id, outcome}) => id === 'stick around' && outcome === 'done')?.reach ?? [];
	const rests = restsOf(answers, [columnX, columnY]);
	const axis = (name: 'x' | 'y', ownColumn: number, column: number): AxisFigures => ({
		name: `stick-${name}`,
		column,
		ownColumn,
		...directionOf(name, column, answers),
		...placesOf(
			rests.get(column) ?? [],
			reaches.find(each => each.column === column),
		),
	});
	const x = axis('x', columnX, isSwapped ? columnY : columnX);
	const y = axis('y', columnY, isSwapped ? columnX : columnY);
	const middle = railLow + fullScale / 2;
	const axes = [x, y];
	const centres = axes.flatMap(({centre}) => (centre === null ? [] : [Math.abs(centre - middle)]));
	const scatters = axes.flatMap(({column, centre}) =>
		centre === null ? [] : (rests.get(column) ?? []).map(level => Math.abs(level - centre)),
	);
	const ways = axes.flatMap(({low, high}) => (low === null || high === null ? [] : [middle - low, high - middle]));
	return {
		x,
		y,
		offCentrePercent: centres.length === 0 ? null : (100 * Math.max(...centres)) / fullScale,
		scatterPercent: scatters.length === 0 ? null : (100 * Math.max(...scatters)) / fullScale,
		reachPercent: ways.length < 4 ? null : (100 * Math.min(...ways)) / (fullScale / 2),
		sides: [...answers.keys()],
	};
}

/** The push that answered for each side. */
function answersOf(records: readonly StepRecord[]): Map<StickSide, KeptPull> {
	const answers = new Map<StickSide, KeptPull>();
	for (const side of stickSides) {
		const record = records.find(({id}) => id === `stick ${side}`);
		if (record?.outcome === 'done' && record.pulls?.[0]) answers.set(side, record.pulls[0]);
	}

	return answers;
}

/** True where more sides answered on the column of the other axis than on their own. */
function areSwapped(answers: ReadonlyMap<StickSide, KeptPull>, columnX: number, columnY: number): boolean {
	const votes = (axis: 'x' | 'y', column: number) =>
		sidesOf[axis].filter(side => answers.get(side)?.column === column).length;
	return votes('x', columnY) + votes('y', columnX) > votes('x', columnX) + votes('y', columnY);
}

/** Which way an axis goes, by its two sides; both are better than one. */
function directionOf(
	name: 'x' | 'y',
	column: number,
	answers: ReadonlyMap<StickSide, KeptPull>,
): Pick<AxisFigures, 'isKnown' | 'confidence' | 'direction'> {
	const [positive, negative] = sidesOf[name].map(side => answers.get(side));
	const up = positive?.column === column ? Math.sign(positive.excursion) : 0;
	const down = negative?.column === column ? -Math.sign(negative.excursion) : 0;
	const sides = Math.abs(up) + Math.abs(down);
	return {
		isKnown: sides > 0,
		confidence: [0, 0.7, 0.95][sides] ?? 0,
		direction: Math.sign(up + down) as -1 | 0 | 1,
	};
}

/** Where an axis rests and how far it goes from there. */
function placesOf(
	levels: readonly number[],
	reach: {readonly low: number; readonly high: number} | undefined,
): Pick<AxisFigures, 'centre' | 'low' | 'high'> {
	if (levels.length === 0) return {centre: null, low: null, high: null};
	const centre = meanOf(levels);
	return {
		centre,
		low: reach === undefined ? null : centre - reach.low,
		high: reach === undefined ? null : centre + reach.high,
	};
}

/** Rest levels per column: before and after each push of that axis. */
function restsOf(answers: ReadonlyMap<StickSide, KeptPull>, columns: readonly number[]): Map<number, number[]> {
	return new Map(
		columns.map(column => {
			const pushes = [...answers.values()].filter(push => push.column === column);
			return [column, pushes.flatMap(({before, after}) => [before, after])];
		}),
	);
}
