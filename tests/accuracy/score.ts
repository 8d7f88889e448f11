import type {Diagnosis, Found} from './diagnosis.ts';
import type {Expectation, May, Must} from './expectation.ts';

/** How one fault that was there came out. */
export type MustOutcome = {
	readonly must: Must;
	readonly result: 'found' | 'wrong channel' | 'missed';
	/** Found, but at a status that docs/faults.md does not give it. */
	readonly wrongStatus: string | null;
	/** Seconds from the evidence to its being flagged; null where no such moment is known. Never below 0. */
	readonly delaySeconds: number | null;
};

/** A session held against what is true of it. */
export type Outcome = {
	/** Rows of the table: the kind of session, or the code that was there. */
	readonly row: string;
	readonly name: string;
	readonly isHealthy: boolean;
	readonly musts: readonly MustOutcome[];
	/** Findings that nothing there explains. */
	readonly extra: readonly Found[];
	readonly hours: number;
	readonly states: {readonly right: number; readonly wrong: readonly string[]};
	readonly verdict: {readonly right: boolean | null; readonly said: string};
	readonly slips: readonly string[];
};

/** Findings flagged so long before a fault began are not of it. */
const earlySeconds = 5;

function answers(must: Must, found: Found): boolean {
	if (!must.codes.includes(found.code)) return false;
	if (
		found.flaggedAt < (must.from ?? 0) - earlySeconds ||
		found.flaggedAt > (must.flaggedBy ?? Number.POSITIVE_INFINITY)
	)
		return false;
	return must.channels === 'any' || must.channels.includes(found.channel);
}

function allows({code, channels, flaggedFrom = 0, flaggedBy = Number.POSITIVE_INFINITY}: May, found: Found): boolean {
	if (found.flaggedAt < flaggedFrom || found.flaggedAt > flaggedBy) return false;
	return found.code === code && (channels === 'any' || found.channel === null || channels.includes(found.channel));
}

function outcomeOf(must: Must, findings: readonly Found[]): MustOutcome {
	const hits = findings.filter(found => answers(must, found));
	if (hits.length === 0) {
		const elsewhere = findings.some(({code}) => must.codes.includes(code));
		return {must, result: elsewhere ? 'wrong channel' : 'missed', wrongStatus: null, delaySeconds: null};
	}
	const {statuses} = must;
	const last = hits[hits.length - 1];
	const wrongStatus = statuses && last.status !== undefined && !statuses.includes(last.status) ? last.status : null;
	const due = must.evidenceAt ?? must.delayFrom ?? null;
	const delaySeconds = due === null ? null : Math.max(0, hits[0].flaggedAt - due);
	return {must, result: 'found', wrongStatus, delaySeconds};
}

/** Holds a diagnosis against what is true. */
export function score(row: string, name: string, expectation: Expectation, diagnosis: Diagnosis): Outcome {
	const {musts, mays, verdicts} = expectation;
	const {findings, channels, verdict, slips, seconds} = diagnosis;
	const extra = findings.filter(
		found => !musts.some(must => answers(must, found)) && !mays.some(may => allows(may, found)),
	);
	let right = 0;
	const wrong: string[] = [];
	for (const [channel, states] of Object.entries(expectation.states)) {
		const state =
			channels.find(({name}) => name === channel)?.state ?? (states.includes('spare') ? 'spare' : 'no such channel');
		if (states.includes(state)) right++;
		else wrong.push(`${channel} ${state}, not ${states.join(' or ')}`);
	}
	return {
		row,
		name,
		isHealthy: musts.length === 0,
		musts: musts.map(must => outcomeOf(must, findings)),
		extra,
		hours: seconds / 3600,
		states: {right, wrong},
		verdict: {right: verdicts === null ? null : verdicts.includes(verdict), said: verdict},
		slips,
	};
}
