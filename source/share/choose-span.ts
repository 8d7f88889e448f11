import type {Finding} from '../session/snapshot.ts';
import {onGrid, type Span} from './cut-items.ts';

/** What of a recording is wanted; without `from` and `to` what its findings need. */
type Wanted = {readonly from?: number; readonly to?: number; readonly all?: boolean};

/** A span of which the findings are known, and how they differ from those wanted. */
export type Choice = {
	readonly span: Span;
	/** Findings of the original that belong into the span and are not raised in it. */
	readonly missing: readonly Finding[];
	/** Findings raised in the span alone. */
	readonly extra: readonly Finding[];
};

/** A recording this short is kept whole: cutting it spares nothing, and may cost a finding. */
const shortSeconds = 120;

/**
 * Lead-in before `--from`, seconds, until the findings are there. The layout is settled within a second or two; a
 * range takes a few full-hand cycles of 2 to 4 s, `narrow-span` three and `baseline-drift` six of them; a minute may
 * count for `dropout`. Twice that is the most that is added to what a person asked for.
 */
const leadInSeconds: readonly number[] = [0, 5, 15, 30, 60, 120];

/** What stands before and after the findings where nothing else was asked for; doubled until it suffices. */
const marginSeconds = 10;

const sameFinding = (one: Finding, other: Finding) => one.code === other.code && one.channel === other.channel;

/** Whether a finding was there at any time of a span. */
export function isWithin(finding: Finding, {from, to}: Span): boolean {
	return finding.spans.some(([begun, ended]) => begun <= to && (ended ?? Number.POSITIVE_INFINITY) >= from);
}

/**
 * The spans worth trying, shortest first. The last one for a recording that is not cut by hand is the whole.
 *
 * @param endsAt Seconds at which the recording ends.
 */
export function spansToTry(findings: readonly Finding[], endsAt: number, wanted: Wanted): Span[] {
	const whole = {from: 0, to: endsAt};
	const {from, to} = wanted;
	if (from !== undefined || to !== undefined) {
		const end = Math.min(to ?? endsAt, endsAt);
		return distinct(leadInSeconds.map(lead => ({from: onGrid((from ?? 0) - lead), to: end})));
	}

	if (wanted.all || endsAt <= shortSeconds || findings.length === 0) return [whole];
	const first = Math.min(...findings.map(finding => finding.from));
	// What follows the moment of certainty only repeats it.
	const last = Math.max(...findings.map(finding => finding.flaggedAt));
	const spans: Span[] = [];
	for (let margin = marginSeconds; margin < endsAt; margin *= 2) {
		spans.push({from: onGrid(first - margin), to: Math.min(endsAt, last + margin)});
	}

	// A header line or a first movement may be needed that only the beginning has.
	spans.push({from: 0, to: Math.min(endsAt, last + marginSeconds)}, whole);
	return distinct(spans).sort((one, other) => one.to - one.from - (other.to - other.from));
}

/**
 * The shortest span that has all findings of the original that belong to it and no others; where there is none, the one
 * that misses the fewest, then the one that adds the fewest.
 *
 * @param findings Those of the whole recording.
 * @param expected Those of them that the copy is to have.
 * @param replay Gives the findings of a span that is cut out.
 */
export function chooseSpan(
	spans: readonly Span[],
	findings: readonly Finding[],
	expected: readonly Finding[],
	replay: (span: Span) => readonly Finding[],
): Choice {
	let best: Choice | undefined;
	for (const span of spans) {
		const found = replay(span);
		const missing = expected.filter(finding => !found.some(other => sameFinding(finding, other)));
		const extra = found.filter(finding => !findings.some(other => sameFinding(finding, other)));
		const isBetter =
			best === undefined ||
			missing.length < best.missing.length ||
			(missing.length === best.missing.length && extra.length < best.extra.length);
		if (isBetter) best = {span, missing, extra};
		if (missing.length === 0 && extra.length === 0) break;
	}

	if (best === undefined) throw new RangeError('No span was given to choose from.');
	return best;
}

function distinct(spans: readonly Span[]): Span[] {
	return spans.filter(
		({from, to}, index) => spans.findIndex(other => other.from === from && other.to === to) === index,
	);
}
