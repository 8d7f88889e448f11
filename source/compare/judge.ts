import {plainName} from '../faults/plain-name.ts';
import {listText} from '../text/list-text.ts';
import type {ComparedFinding, ComparedFindings} from './compare-findings.ts';
import type {ComparedChannel} from './comparison.ts';

export type ComparisonVerdict = {
	readonly word: 'better' | 'worse' | 'same' | 'mixed' | 'unknown';
	/** The verdict in a sentence. */
	readonly sentence: string;
};

/** What B is against A: findings first, then what has changed without being wrong. */
export function judge(
	{gone, appeared, remaining, untested}: ComparedFindings,
	changes: readonly string[],
	channels: readonly ComparedChannel[],
): ComparisonVerdict {
	const open = untested.length > 0 ? `; ${list(untested)} was not put to the test in B` : '';
	const left = remaining.length > 0 ? `, ${list(remaining)} ${remaining.length === 1 ? 'remains' : 'remain'}` : '';
	if (gone.length > 0 && appeared.length > 0) {
		return {
			word: 'mixed',
			sentence: `${list(gone)} ${is(gone)} gone, but ${list(appeared)} ${is(appeared)} new${left}${open}.`,
		};
	}

	if (gone.length > 0) {
		const rest = left || ' and nothing new was found';
		return {word: 'better', sentence: `${list(gone)} ${is(gone)} gone${rest}${open}.`};
	}

	if (appeared.length > 0)
		return {word: 'worse', sentence: `${list(appeared)} ${is(appeared)} new in B${left}${open}.`};
	if (untested.length > 0) {
		return {
			word: 'unknown',
			sentence: `${list(untested)} was not put to the test in B: move ${channelsOf(untested)} there and back, then compare again${left}.`,
		};
	}

	if (remaining.length > 0)
		return {word: 'same', sentence: `${list(remaining)} ${is(remaining)} in both, nothing else was found.`};
	if (!channels.some(({b}) => b?.isProven)) {
		return {word: 'unknown', sentence: 'Nothing was found in either, but nothing has moved enough in B to be proven.'};
	}

	return {
		word: 'same',
		sentence:
			changes.length > 0
				? `Nothing is wrong in either. ${changes[0]}`
				: 'Nothing is wrong in either, and they are alike.',
	};
}

function is(findings: readonly ComparedFinding[]): string {
	return findings.length === 1 ? 'is' : 'are';
}

/** Up to three by name, the rest by number. */
function list(findings: readonly ComparedFinding[]): string {
	const names = findings.map(({code, channel}) => plainName(code, channel));
	if (names.length <= 3) return listText(names);
	return listText([...names.slice(0, 2), `${names.length - 2} others`]);
}

function channelsOf(findings: readonly ComparedFinding[]): string {
	return listText([...new Set(findings.map(({channel}) => channel ?? 'every finger'))]);
}
