import {significant} from '../text/round-figures.ts';
import {tool} from '../version.ts';
import type {LinkAccount, Stretch} from './link-account.ts';
import type {NamedAccount} from './link-text.ts';

const digits = 6;

function rounded(value: number): number;
function rounded(value: number | null): number | null;
function rounded(value: number | null): number | null {
	return value === null ? null : significant(value, digits);
}

function stretchJson(stretch: Stretch) {
	const {from, to, mark, frames, lost, lostPercent, lost95, meanBurst, delayMs, outages, longestOutageMs, verdict} =
		stretch;
	return {
		from: rounded(from),
		to: rounded(to),
		mark,
		frames,
		lost,
		lostPercent: rounded(lostPercent),
		lost95: [rounded(lost95[0]), rounded(lost95[1])],
		meanBurst: rounded(meanBurst),
		delayMs: delayMs && {p50: rounded(delayMs.p50), p95: rounded(delayMs.p95), p99: rounded(delayMs.p99)},
		outages,
		longestOutageMs: rounded(longestOutageMs),
		verdict,
	};
}

function accountJson({name, account}: NamedAccount) {
	const {lossBy, whole, worst, stretches, skewPpm, markedBy, marks, notes}: LinkAccount = account;
	return {
		source: name,
		lossBy,
		markedBy,
		marks: marks.map(rounded),
		whole: stretchJson(whole),
		worst: worst && stretchJson(worst),
		stretches: stretches.map(stretchJson),
		skewPpm: rounded(skewPpm),
		notes,
	};
}

/** What `link --json` prints (docs/schemas/link.schema.json); `other` is the one beside it, or null. */
export function linkJson(account: NamedAccount, other: NamedAccount | undefined) {
	return {
		schema: 1,
		kind: 'link',
		tool: {name: tool.name, version: tool.version},
		...accountJson(account),
		other: other === undefined ? null : accountJson(other),
	};
}
