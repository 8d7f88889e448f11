import type {Status} from '../faults/fault-code.ts';
import type {Finding} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import type {ChannelFigures} from './channel-figures.ts';

/** A finding in one or both sessions. */
export type ComparedFinding = {
	readonly code: string;
	readonly channel: string | null;
	readonly status: Status;
	/** The measurement, of B where it is there, else of A. */
	readonly summary: string;
};

export type ComparedFindings = {
	/** In A, and not in B although what it was on has worked there. */
	readonly gone: readonly ComparedFinding[];
	/** In B only. */
	readonly appeared: readonly ComparedFinding[];
	readonly remaining: readonly ComparedFinding[];
	/** In A, and not in B, where what it was on has not worked enough to show it. */
	readonly untested: readonly ComparedFinding[];
};

/** A link is judged again once it has run this long, seconds, or half as long as before. */
const leastLinkSeconds = 10;

/** Sorts the findings of two sessions by what weighs in each: one that was mended within a session is not there any more. */
export function compareFindings(
	a: {readonly findings: readonly Finding[]; readonly seconds: number},
	b: {readonly findings: readonly Finding[]; readonly seconds: number; readonly channels: readonly ChannelFigures[]},
): ComparedFindings {
	const isSame = (one: Finding) => (other: Finding) => one.code === other.code && one.channel === other.channel;
	const before = a.findings.filter(weighs);
	const after = b.findings.filter(weighs);
	const gone: ComparedFinding[] = [];
	const untested: ComparedFinding[] = [];
	for (const finding of before) {
		if (after.some(isSame(finding))) continue;
		const wasTested =
			finding.channel === null
				? b.seconds >= Math.min(leastLinkSeconds, a.seconds / 2)
				: b.channels.some(({name, hasWorked}) => name === finding.channel && hasWorked);
		(wasTested ? gone : untested).push(brief(finding));
	}

	return {
		gone,
		untested,
		appeared: after.filter(finding => !before.some(isSame(finding))).map(brief),
		remaining: after.filter(finding => before.some(isSame(finding))).map(brief),
	};
}

function brief({code, channel, status, summary}: Finding): ComparedFinding {
	return {code, channel, status, summary};
}
