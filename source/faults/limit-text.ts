import type {Fault, Way} from './fault.ts';
import type {Limit} from './gates/gate.ts';

/** `at least 6 whole-hand movements` of each limit of a way, with why it is so. */
export type LimitWords = {readonly name: string; readonly asks: string; readonly because: string};

/** Every number that a way decides by, in words, in the order of its gates. */
export function limitWords(way: Way): LimitWords[] {
	return Object.entries(way.limits).map(([name, limit]) => {
		const gate = way.gates.find(candidate => candidate.name === name);
		const side = gate?.kind === 'at most' ? 'at most ' : gate?.kind === 'chance' || gate?.kind === 'at least' ? 'at least ' : '';
		return {name, asks: `${side}${limit.raise} ${limit.unit}`, because: sentenceOf(limit)};
	});
}

/** Ways that a fault shows in, each with its limits; empty for what only the bring-up can find. */
export function waysInWords(fault: Fault): {readonly name: string | null; readonly limits: readonly LimitWords[]}[] {
	return fault.ways.map(way => ({name: fault.ways.length > 1 ? way.name : null, limits: limitWords(way)}));
}

function sentenceOf({clear, raise, must, mustNot, because}: Limit): string {
	const parts = [because.replace(/[.\s]*$/, '')];
	if (must !== null || mustNot !== null)
		parts.push(
			`by definition ${[must === null ? '' : `found at ${must}`, mustNot === null ? '' : `silent at ${mustNot}`].filter(part => part !== '').join(', ')}`,
		);
	if (clear !== undefined && clear !== raise) parts.push(`over at ${clear}`);
	return `${parts.join('; ')}.`;
}
