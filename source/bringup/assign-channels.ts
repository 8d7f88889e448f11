import type {Channel} from '../framing/layout.ts';
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
	const longest = longestPulls(records);
	const scores: {finger: Channel; column: number; score: number}[] = [];
	for (const finger of fingers) {
		for (const {index: column} of fingers) {
			const score =
				reelWeight * answered(records, `reel ${finger.name}`, column, longest) +
				fingerWeight * answered(records, `finger ${finger.name}`, column, longest);
			if (score >= leastScore) scores.push({finger, column, score: score + (finger.index === column ? ownWeight : 0)});
		}
	}

	scores.sort((one, other) => other.score - one.score);
	const found = new Map<string, Assignment>();
	const taken = new Set<number>();
	for (const {finger, column, score} of scores) {
		if (found.has(finger.name) || taken.has(column)) continue;
		taken.add(column);
		// One of the two parts of the routine: likely; both: as good as sure.
		const confidence = score > reelWeight + fingerWeight / 2 ? 0.98 : score > fingerWeight ? 0.9 : 0.7;
		found.set(finger.name, {name: finger.name, column, ownColumn: finger.index, isKnown: true, confidence});
	}

	for (const {name, index} of fingers) {
		if (found.has(name)) continue;
		const free = taken.has(index) ? fingers.find(other => !taken.has(other.index))!.index : index;
		taken.add(free);
		found.set(name, {name, column: free, ownColumn: index, isKnown: false, confidence: 0});
	}

	return fingers.map(({name}) => found.get(name)!);
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
	return buttons.map(({name, index}) => {
		const answer = answers.get(name);
		if (answer !== undefined) return {name, column: answer, ownColumn: index, isKnown: true, confidence: 0.95};
		const free = taken.has(index) ? buttons.find(other => !taken.has(other.index))!.index : index;
		taken.add(free);
		return {name, column: free, ownColumn: index, isKnown: false, confidence: 0};
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
	const mean = pulls.reduce((sum, {excursion}) => sum + Math.abs(excursion), 0) / pulls.length;
	return mean / longest.get(column)!;
}

function longestPulls(records: readonly StepRecord[]): Map<number, number> {
	const longest = new Map<number, number>();
	const note = ({column, excursion}: KeptPull) =>
		longest.set(column, Math.max(longest.get(column) ?? 0, Math.abs(excursion)));
	for (const {id, pulls = []} of records) if (/^(?:reel|finger) /.test(id)) pulls.forEach(note);
	return longest;
}
