import {findFault} from '../faults/registry.ts';
import type {ChannelView, Finding} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import {secondsText} from '../text/number-text.ts';
import {evidenceText} from './evidence-text.ts';
import {statusText} from './verdict-text.ts';

/** The channel a finding is about; `all fingers` or `link` where no single one is meant. */
export function placeText({channel, code}: Pick<Finding, 'channel' | 'code'>): string {
	return channel ?? (findFault(code)?.together === true ? 'all fingers' : 'link');
}

/** `from 2.1 s, still there at the end`, `from 2.1 s to 5 s`, `3 times between 2.1 s and 40 s`; mended ones say so. */
export function whenText(finding: Finding): string {
	const {from, to, spans, mended} = finding;
	const ended = mended ? 'mended: ' : '';
	if (spans.length > 1) {
		const ends = to === null ? `from ${secondsText(from)} on` : `between ${secondsText(from)} and ${secondsText(to)}`;
		return `${ended}${spans.length} times ${ends}`;
	}

	if (to === null) return `from ${secondsText(from)}, still there at the end`;
	return `${ended}${to - from < 0.005 ? `at ${secondsText(from)}` : `from ${secondsText(from)} to ${secondsText(to)}`}`;
}

/** `ring: floating-input (failure), from 2.1 s, still there at the end`. */
export function findingHeading(finding: Finding): string {
	return `${placeText(finding)}: ${finding.code} (${statusText(finding.status)}), ${whenText(finding)}`;
}

/** The evidence in a line, with how sure the finding is. */
export function evidenceLine(finding: Finding): string {
	const parts = Object.entries(finding.evidence).map(([name, value]) => evidenceText(name, value));
	return [...parts, `${Math.round(finding.confidence * 100)} % sure`].join(', ');
}

/** The next thing to measure and what it should read; undefined for what is over and needs none. */
export function nextMeasurement(finding: Finding): string | undefined {
	return weighs(finding) ? finding.advice[0] : undefined;
}

/** Texts without the sentences that stood in one before: several findings warn of the same soldering iron. */
export function saidOnce(texts: readonly string[]): string[] {
	const said = new Set<string>();
	return texts.flatMap(text => {
		const fresh = sentences(text).filter(sentence => !said.has(sentence));
		for (const sentence of fresh) said.add(sentence);
		return fresh.length > 0 ? [fresh.join(' ')] : [];
	});
}

/** The sentences of a text: each ends with a full stop before a capital letter. */
export function sentences(text: string): string[] {
	return text.split(/(?<=\.) (?=[A-Z])/);
}

/** Lowest and highest reading without lone glitches, such as a reading with a digit eaten by the line; NaN before the first. */
export function seenRange({min, max, usableLow, usableHigh}: ChannelView): readonly [low: number, high: number] {
	// Of what only jumps about there are no usable ends.
	return usableLow === null || usableHigh === null || usableLow > usableHigh ? [min, max] : [usableLow, usableHigh];
}
