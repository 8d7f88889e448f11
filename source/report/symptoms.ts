import {type Fault, seen} from '../faults/fault.ts';
import {type FaultCode, faults} from '../faults/registry.ts';

/** What a builder sees, and the codes that it may be, in the order of the documentation. */
export const symptoms: readonly {readonly sees: string; readonly codes: readonly FaultCode[]}[] = seen.map(sees => ({
	sees,
	codes: faults.filter(fault => fault.sees === sees).map(({code}) => code),
}));

/** Words that say nothing of a symptom. */
const empty = new Set([
	'the',
	'a',
	'an',
	'is',
	'it',
	'of',
	'and',
	'or',
	'my',
	'in',
	'on',
	'to',
	'does',
	'not',
	'at',
	'when',
]);

/**
 * Findings that have words of a symptom in their texts, those with most of them first: a word in the title or the group counts
 * most, then one in the definition, then in a cause. Words are alike where one begins with the other's first five letters.
 */
export function findBySymptom(words: string, among: readonly Fault[]): Fault[] {
	const asked = wordsOf(words).filter(word => !empty.has(word));
	const scored = among.map((fault, place) => {
		const texts = [`${fault.code} ${fault.title} ${fault.sees}`, fault.definition, fault.causes.join(' ')].map(wordsOf);
		const score = asked.reduce((sum, word) => {
			const first = texts.findIndex(text => text.some(other => isAlike(word, other)));
			return sum + (first < 0 ? 0 : 3 - first);
		}, 0);
		return {fault, score, place};
	});
	return scored
		.filter(({score}) => score > 0)
		.sort((a, b) => b.score - a.score || a.place - b.place)
		.slice(0, 8)
		.map(({fault}) => fault);
}

function wordsOf(text: string): string[] {
	return text.toLowerCase().match(/[a-z]+/g) ?? [];
}

function isAlike(one: string, other: string): boolean {
	const length = Math.min(5, one.length, other.length);
	return length >= 3 ? one.slice(0, length) === other.slice(0, length) : one === other;
}
