import type {Channel} from '../framing/layout.ts';
import {meanOf} from '../math/sums.ts';
import type {KeptPull, StepRecord} from './step-record.ts';

/** Which column a finger, axis or button is really on. */
export type Assignment = {
	/** `thumb`…, `stick-x`…, `button-1`… */
	readonly name: string;
	/** The column that answers to it. */
	readonly column: number;
	/** The column that has its name in the stream. */
	readonly ownColumn: number;
	/** False where nothing answered: `column` is then its own, or a free one. */
	readonly isKnown: boolean;
	/** 0…1. */
	readonly confidence: number;
};

/** A reel pulled by hand tells more than a finger bent alone, whose neighbours follow. */
const reelWeight = 2;
const fingerWeight = 1;
/** Of two that answered alike, the one with the name. */
const ownWeight = 0.25;
/** Less than half of a whole pull, twice, is no answer. */
const leastScore = 1;

/**
 * Fits fingers and columns together: every answer counts by how whole it was for its column, the best fit goes first,
 * and no column is given twice. Fingers that nothing answered for get their own column if it is left.
 */
export function assignFingers(channels: readonly Channel[], records: readonly StepRecord[]): Assignment[] {
	const fingers = channels.filter(({role}) => role === 'finger');
	const found = new Map<string, Assignment>();
	const taken = new Set<number>();
	for (const {finger, column, score} of scoresOf(fingers, records)) {
		if (found.has(finger.name) || taken.has(column)) continue;
		taken.add(column);
		const confidence = confidenceOf(score);
		found.set(finger.name, {name: finger.name, column, ownColumn: finger.index, isKnown: true, confidence});
	}

	return fingers.map(finger => found.get(finger.name) ?? unanswered(finger, fingers, taken));
}

type Score = {readonly finger: Channel; readonly column: number; readonly score: number};

/** How well each finger was answered on each column that can be it, the best first. */
function scoresOf(fingers: readonly Channel[], records: readonly StepRecord[]): Score[] {
	const longest = longestPulls(records);
	const scores = fingers.flatMap(finger =>
		fingers.flatMap(({index: column}) => {
			const score =
				reelWeight * answered(records, `reel ${finger.name}`, column, longest) +
				fingerWeight * answered(records, `finger ${finger.name}`, column, longest);
			const named = score + (finger.index === column ? ownWeight : 0);
			return score >= leastScore ? [{finger, column, score: named}] : [];
		}),
	);
	return scores.sort((one, other) => other.score - one.score);
}

/** One of the two parts of the routine: likely; both: as good as sure. */
function confidenceOf(score: number): number {
	if (score > reelWeight + fingerWeight / 2) return 0.98;
	return score > fingerWeight ? 0.9 : 0.7;
}

/** A channel that nothing answered for: on its own column, or on the first that is left; `taken` gets it. */
function unanswered({name, index}: Channel, alike: readonly Channel[], taken: Set<number>): Assignment {
	const column = taken.has(index) ? alike.find(other => !taken.has(other.index))!.index : index;
	taken.add(column);
	return {name, column, ownColumn: index, isKnown: false, confidence: 0};
}

/** Buttons: each step's answer, the rest by name. */
export function assignButtons(channels: readonly Channel[], records: readonly StepRecord[]): Assignment[] {
	const buttons = channels.filter(({role}) => role === 'button');
	const answers = new Map(
		buttons.flatMap(({name}) => {
			const record = records.find(({id}) => id === name);
			return record?.column == null ? [] : [[name, record.column] as const];
		}),
	);
	const taken = new Set(answers.values());
	return buttons.map(button => {
		const column = answers.get(button.name);
		if (column === undefined) return unanswered(button, buttons, taken);
		return {name: button.name, column, ownColumn: button.index, isKnown: true, confidence: 0.95};
	});
}

/** How a step was answered on a column: 1 for pulls as long as that column's longest, less for shorter ones. */
function answered(
	records: readonly StepRecord[],
	id: string,
	column: number,
	longest: ReadonlyMap<number, number>,
): number {
	const record = records.find(each => each.id === id);
	const pulls = record?.outcome === 'done' ? (record.pulls ?? []).filter(pull => pull.column === column) : [];
	if (pulls.length === 0) return 0;
	const mean = meanOf(pulls.map(({excursion}) => Math.abs(excursion)));
	return mean / longest.get(column)!;
}

function longestPulls(records: readonly StepRecord[]): Map<number, number> {
	const longest = new Map<number, number>();
	const note = ({column, excursion}: KeptPull) =>
		longest.set(column, Math.max(longest.get(column) ?? 0, Math.abs(excursion)));
	for (const {id, pulls = []} of records) if (/^(?:reel|finger) /.test(id)) pulls.forEach(note);
	return longest;
}
