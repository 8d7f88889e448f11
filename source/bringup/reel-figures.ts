import {itemAt} from '../item-at.ts';
import {medianOf} from '../math/nth-smallest.ts';
import {judgeRuler, ninePoints, type RulerFigures, type RulerOptions, type RulerRefusal} from '../ruler/ruler-test.ts';
import {defaultLimits, type Limits, type Sheet} from '../sheet/sheet.ts';
import type {Assignment} from './assign-channels.ts';
import type {KeptPull, StepRecord} from './step-record.ts';

/** What was measured on one finger's reel. Percent of full scale unless its name says otherwise. */
export type ReelFigures = {
	readonly name: string;
	readonly column: number;
	/** False where nothing answered for this finger alone. */
	readonly isKnown: boolean;
	/** Median way of a pull; null where nothing answered. */
	readonly travelPercent: number | null;
	/** Farthest that it came to rest from where it had been before the first pull. */
	readonly returnErrorPercent: number | null;
	/** Largest quick step against the movement. */
	readonly roughnessPercent: number | null;
	/** Short jumps while it was pulled and while the hand moved. */
	readonly dropouts: number | null;
	/** rms at rest. */
	readonly noisePercent: number | null;
	/** Range with the hand, in the unit of the readings. */
	readonly low: number | null;
	readonly high: number | null;
	/** +1: the reading rises as the finger bends. 0: not known. */
	readonly direction: -1 | 0 | 1;
	/** What the ruler says of it; null where it was not pulled along one. */
	readonly curve: ReelCurve | null;
	/** Where the figures of the reel come from: its own step, or the hand's where that was left out. */
	readonly from: 'reel' | 'hand' | 'nothing';
};

/** Figures of the ruler with a table of nine readings at even lengths of cord, or why there are none. */
type ReelCurve = (RulerFigures & {readonly ninePoints: readonly number[]}) | RulerRefusal;

/** A ruler that cords were pulled along. */
type Ruler = Pick<RulerOptions, 'stepMm' | 'fullScale'> & {
	/** Electrical angle of a finger's track, degrees; undefined where no sheet says it. */
	readonly angleOf: (name: string) => number | undefined;
};

/** Gathers what the steps say about each finger's reel. `fullScale` in the unit of the readings. */
export function reelFigures(
	assignments: readonly Assignment[],
	records: readonly StepRecord[],
	fullScale: number,
	ruler?: Ruler,
): ReelFigures[] {
	const step = (id: string) => records.find(each => each.id === id);
	const hand = step('hand');
	const noise = step('rest')?.noise ?? [];
	return assignments.map(({name, column, isKnown}) => {
		const ownPulls = pullsOn(column, step(`reel ${name}`));
		const handPulls = (hand?.pulls ?? []).filter(pull => pull.column === column);
		const pulls = ownPulls.length > 0 ? ownPulls : handPulls;
		const range = hand?.ranges?.find(each => each.column === column);
		const rms = noise.find(each => each.column === column)?.rms;
		const isMeasured = isKnown || handPulls.length > 0;
		return {
			name,
			column,
			isKnown,
			...(isMeasured ? pullFigures(pulls, [...ownPulls, ...handPulls], fullScale) : noPulls),
			noisePercent: rms === undefined ? null : (100 * rms) / fullScale,
			low: range?.low ?? null,
			high: range?.high ?? null,
			direction: directionOf(range?.direction ?? 0, pulls),
			curve: curveOf(step(`ruler ${name}`), name, ruler),
			from: pulls.length === 0 ? 'nothing' : pulls === ownPulls ? 'reel' : 'hand',
		};
	});
}

/** Pulls of a column in a step that was done. */
function pullsOn(column: number, record: StepRecord | undefined): readonly KeptPull[] {
	return record?.outcome === 'done' ? (record.pulls ?? []).filter(pull => pull.column === column) : [];
}

type PullFigures = Pick<ReelFigures, 'travelPercent' | 'returnErrorPercent' | 'roughnessPercent' | 'dropouts'>;

const noPulls: PullFigures = {travelPercent: null, returnErrorPercent: null, roughnessPercent: null, dropouts: null};

/** What the pulls of a reel say; short jumps are counted in `all`, those with the hand included. */
function pullFigures(pulls: readonly KeptPull[], all: readonly KeptPull[], fullScale: number): PullFigures {
	if (pulls.length === 0) return noPulls;
	const percent = (counts: number) => (100 * counts) / fullScale;
	return {
		travelPercent: percent(medianOf(pulls.map(each => Math.abs(each.excursion)))),
		returnErrorPercent: percent(returnError(pulls)),
		roughnessPercent: percent(Math.max(...pulls.map(each => each.wobble))),
		dropouts: all.reduce((sum, each) => sum + each.dropouts, 0),
	};
}

function curveOf(record: StepRecord | undefined, name: string, ruler: Ruler | undefined): ReelCurve | null {
	if (ruler === undefined || record?.outcome !== 'done' || record.stays === undefined) return null;
	const {stepMm, fullScale} = ruler;
	const electricalAngleDeg = ruler.angleOf(name);
	const figures = judgeRuler(record.stays, {
		stepMm,
		...(fullScale !== undefined && {fullScale}),
		...(electricalAngleDeg !== undefined && {electricalAngleDeg}),
	});
	return 'reason' in figures ? figures : {...figures, ninePoints: ninePoints(figures)};
}

/** The limits that a finger's reel has to keep; a thumb bends two joints of three: half the travel. */
export function limitsFor(name: string, sheet: Sheet | undefined): Limits {
	const {minTravelPercent} = defaultLimits;
	const usual = name.startsWith('thumb') ? minTravelPercent / 2 : minTravelPercent;
	return {...defaultLimits, minTravelPercent: usual, ...sheet?.limits};
}

function directionOf(withHand: -1 | 0 | 1, pulls: readonly KeptPull[]): -1 | 0 | 1 {
	if (withHand !== 0 || pulls.length === 0) return withHand;
	const rising = pulls.filter(({excursion}) => excursion > 0).length;
	return 2 * rising === pulls.length ? 0 : 2 * rising > pulls.length ? 1 : -1;
}

function returnError(pulls: readonly KeptPull[]): number {
	const {before} = itemAt(pulls, 0);
	return Math.max(...pulls.map(({after}) => Math.abs(after - before)));
}
