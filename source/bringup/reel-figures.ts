import {medianOf} from '../features/nth-smallest.ts';
import {itemAt} from '../item-at.ts';
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
	const hand = records.find(({id}) => id === 'hand');
	const noise = records.find(({id}) => id === 'rest')?.noise ?? [];
	const percent = (counts: number) => (100 * counts) / fullScale;
	return assignments.map(({name, column, isKnown}) => {
		const isOnColumn = (pull: KeptPull) => pull.column === column;
		const reel = records.find(({id}) => id === `reel ${name}`);
		const ownPulls = reel?.outcome === 'done' ? (reel.pulls ?? []).filter(isOnColumn) : [];
		const handPulls = (hand?.pulls ?? []).filter(isOnColumn);
		const pulls = ownPulls.length > 0 ? ownPulls : handPulls;
		const range = hand?.ranges?.find(each => each.column === column);
		const rms = noise.find(each => each.column === column)?.rms;
		const isMeasured = isKnown || handPulls.length > 0;
		return {
			name,
			column,
			isKnown,
			travelPercent:
				isMeasured && pulls.length > 0 ? percent(medianOf(pulls.map(each => Math.abs(each.excursion)))) : null,
			returnErrorPercent: isMeasured && pulls.length > 0 ? percent(returnError(pulls)) : null,
			roughnessPercent: isMeasured && pulls.length > 0 ? percent(Math.max(...pulls.map(each => each.wobble))) : null,
			dropouts:
				isMeasured && pulls.length > 0
					? [...ownPulls, ...handPulls].reduce((sum, each) => sum + each.dropouts, 0)
					: null,
			noisePercent: rms === undefined ? null : percent(rms),
			low: range?.low ?? null,
			high: range?.high ?? null,
			direction: directionOf(range?.direction ?? 0, pulls),
			curve: curveOf(
				records.find(({id}) => id === `ruler ${name}`),
				name,
				ruler,
			),
			from: ownPulls.length > 0 ? 'reel' : handPulls.length > 0 ? 'hand' : 'nothing',
		};
	});
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
