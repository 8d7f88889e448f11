import {probingCaution} from '../faults/cautions.ts';
import type {Finding} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import {sentences} from './finding-text.ts';

/**
 * What a step speaks of where a caution belongs beside it: by the sentence's beginning. A caution that is not in the list
 * belongs beside every step of its finding.
 */
const concerns: readonly (readonly [begins: string, step: RegExp])[] = [
	[
		'Unplug USB and battery',
		/unplugged:|unplug (?:pots|buttons)|wires? off\b|solder|crimp|follow the wire|feel the pot/i,
	],
	['An iron tip', /solder|\biron\b/i],
	['Hot glue', /\bglu/i],
	['A pot whose wiper is exchanged', /exchanged/i],
	['If a pot or a wire is warm', /\bwarm\b|\bhot\b|\blugs?\b/i],
	['On a 3.3 V board', /3\.3 V|3V3|supply (?:lug|pin)|\bfed\b/i],
	['Feed pots, sticks', /3\.3 V|3V3|supply (?:lug|pin)|\bfed\b/i],
	['Wire a voltage to AREF', /AREF|reference pin/],
	['Hold the spool', /loosen|re-wind|shaft by hand|shaft slowly|turn the shaft/i],
	['No loop that can tighten', /\bcords?\b|\bspool\b|\bfists?\b/i],
	['Small servos', /\bmotors?\b|\bservos?\b/i],
	['Unplug motors', /\bmotors?\b|\bservos?\b/i],
	['Lithium cells', /lithium|battery volts/i],
	['Do not open mains', /charger|mains/i],
	['Contact cleaner', /clean|\bdirt/i],
];

/** Steps on a powered board with a probe in the hand. */
const probing = /^volts|\bvolts (?:at|from|over|on)\b|meter on|: volts\b/i;

/**
 * The cautions, of those a finding has, that belong beside the steps that are shown; each sentence once, in their order.
 * Where a step measures on a powered board, how to hold the probe comes last.
 */
export function stepCautions(all: readonly string[], steps: readonly string[]): string[] {
	const told = all.flatMap(sentences).filter(sentence => {
		const [, step] = concerns.find(([begins]) => sentence.startsWith(begins)) ?? [];
		return steps.length > 0 && (step === undefined || steps.some(text => step.test(text)));
	});
	const isProbed = steps.some(text => probing.test(text) && !/unplugged/i.test(text));
	return [...new Set(isProbed ? [...told, probingCaution] : told)];
}

/** Cautions of a report on several findings: of each the next step is shown, or all of them. Each sentence once. */
export function shownCautions(findings: readonly Finding[], shown: 'next' | 'all'): string[] {
	const told = findings
		.filter(weighs)
		.flatMap(({cautions, advice}) => stepCautions(cautions, shown === 'all' ? advice : advice.slice(0, 1)));
	// What holds for any probe is said after what these wires, cords and motors want.
	const all = new Set(told);
	return all.delete(probingCaution) ? [...all, probingCaution] : [...all];
}
