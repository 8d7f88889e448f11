import type {Status} from '../faults/fault-code.ts';
import type {Finding} from '../session/snapshot.ts';
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

/** Sorts the findings of two sessions. `secondsA`, `secondsB`: how long they lasted. */
export function compareFindings(
	a: {readonly findings: readonly Finding[]; readonly seconds: number},
	b: {readonly findings: readonly Finding[]; readonly seconds: number; readonly channels: readonly ChannelFigures[]},
): ComparedFindings {
	const isSame = (one: Finding) => (other: Finding) => one.code === other.code && one.channel === other.channel;
	const gone: ComparedFinding[] = [];
	const untested: ComparedFinding[] = [];
	for (const finding of a.findings) {
		if (b.findings.some(isSame(finding))) continue;
		const wasTested =
			finding.channel === null
				? b.seconds >= Math.min(leastLinkSeconds, a.seconds / 2)
				: b.channels.some(({name, hasWorked}) => name === finding.channel && hasWorked);
		(wasTested ? gone : untested).push(brief(finding));
	}

	return {
		gone,
		untested,
		appeared: b.findings.filter(finding => !a.findings.some(isSame(finding))).map(brief),
		remaining: b.findings.filter(finding => a.findings.some(isSame(finding))).map(brief),
	};
}

function brief({code, channel, status, summary}: Finding): ComparedFinding {
	return {code, channel, status, summary};
}
