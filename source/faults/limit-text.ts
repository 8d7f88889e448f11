import type {Fault, Way} from './fault.ts';
import {asksOf, type Limit} from './gates/gate.ts';

/** One condition of a way in words; the figure gates carry their limit. */
type Condition = {
	/** The gate's name, as `check --why` gives it. */
	readonly name: string;
	/** `at least 6 whole-hand movements`, `a channel that has made a trip`. */
	readonly asks: string;
	/** The number behind it; null where a condition has none. */
	readonly limit: Limit | null;
};

/** A way in which a fault shows, as everything that has to hold. */
type WayInWords = {
	/** null where a fault has one way only. */
	readonly name: string | null;
	readonly conditions: readonly Condition[];
};

/** The ways a fault shows in, each with its conditions in the order in which they are asked; empty for what only the bring-up can find. */
export function waysInWords(fault: Fault): WayInWords[] {
	return fault.ways.map(way => ({name: fault.ways.length > 1 ? way.name : null, conditions: conditionsOf(way)}));
}

function conditionsOf({gates, limits}: Way): Condition[] {
	const asked = gates.map(gate => ({
		name: gate.name,
		asks: asksOf(gate, limits[gate.name]),
		limit: gate.kind === 'ground' || gate.kind === 'unless' ? null : limits[gate.name],
	}));
	// Limits that go into what a gate measures.
	const others = Object.entries(limits)
		.filter(([name]) => !asked.some(each => each.name === name && each.limit !== null))
		.map(([name, limit]) => ({name, asks: `${limit.raise} ${limit.unit}`, limit}));
	return [...asked, ...others];
}

/**
 * `Found at 0.25, silent at 0.5 by definition; an open finding closes at 0.4.` Empty where all of that is what the limit
 * asks anyway.
 */
export function rangeText({raise, clear, must, mustNot}: Limit): string {
	const definition = [
		...(must === null || (must === raise && mustNot === null) ? [] : [`found at ${must}`]),
		...(mustNot === null ? [] : [`silent at ${mustNot}`]),
	].join(', ');
	const parts = [
		...(definition === '' ? [] : [`${definition} by definition`]),
		...(clear === undefined || clear === raise ? [] : [`an open finding closes at ${clear}`]),
	];
	return sentence(parts.join('; '));
}

/** A gate's name as words: `lastsAfterMoving` is `lasts after moving`. */
export function gateWords(name: string): string {
	return name.replace(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`);
}

/** A text with a capital letter and a full stop; nothing stays nothing. */
export function sentence(text: string): string {
	return text === '' ? '' : `${text.charAt(0).toUpperCase()}${text.slice(1).replace(/[.\s]*$/, '')}.`;
}
