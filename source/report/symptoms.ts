import type {Fault} from '../faults/fault.ts';
import type {FaultCode} from '../faults/registry.ts';

/** What a builder sees, and the codes that it may be: every code is in one group. */
export const symptoms: readonly {readonly sees: string; readonly codes: readonly FaultCode[]}[] = [
	{
		sees: 'does not move, or too little',
		codes: [
			'stuck-low',
			'stuck-high',
			'stuck-mid',
			'narrow-span',
			'clipped-range',
			'shared-ceiling',
			'coarse-steps',
			'stick-short-throw',
			'button-held',
		],
	},
	{sees: 'jumps', codes: ['dropout', 'rough-track', 'button-bounce', 'button-floating']},
	{
		sees: 'noisy, or moves by itself',
		codes: ['floating-input', 'excess-noise', 'mains-hum', 'supply-ripple', 'crosstalk'],
	},
	{
		sees: 'wrong way, wrong place or wrong scale',
		codes: [
			'reversed-sensor',
			'duplicate-channel',
			'swapped-channels',
			'stick-reversed',
			'stick-swapped',
			'wrong-full-scale',
			'settings-stale',
			'baseline-drift',
			'backlash',
			'stick-off-centre',
			'stick-no-return',
		],
	},
	{
		sees: 'the link',
		codes: [
			'silent',
			'port-lost',
			'wrong-baud',
			'broken-frames',
			'stray-text',
			'device-restart',
			'slow-frames',
			'uneven-frames',
			'stall',
			'bursty-delivery',
			'lost-frames',
			'line-saturated',
		],
	},
];

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
export function findBySymptom(words: string, faults: readonly Fault[]): Fault[] {
	const asked = wordsOf(words).filter(word => !empty.has(word));
	const scored = faults.map((fault, place) => {
		const group = symptoms.find(({codes}) => codes.some(code => code === fault.code))?.sees ?? '';
		const texts = [`${fault.code} ${fault.title} ${group}`, fault.definition, fault.causes.join(' ')].map(wordsOf);
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
