import type {Features} from '../features/features.ts';
import type {Fault, Sign, Way} from './fault.ts';
import {type Gate, keepsBelow, type Limit, reachesLimit} from './gates/gate.ts';

/** What a check answers of one place. */
export type Answer = {
	/** `absent`: it does not apply here. `raised`: the fault shows. `held`: not enough to raise it, too much to close it. */
	readonly state: 'absent' | 'raised' | 'held' | 'refused';
	/** What was seen, where it is raised. */
	readonly sign: Sign | null;
	/** The way in which it is raised. */
	readonly way?: string;
	/** How far the weakest figure lies beyond its limit, as a ratio; 1 at the limit, and where no figure is asked. */
	readonly margin: number;
};

const absent: Answer = {state: 'absent', sign: null, margin: 1};
export const refused: Answer = {state: 'refused', sign: null, margin: 1};
const held: Answer = {state: 'held', sign: null, margin: 1};

/**
 * Asks a check about one place. `isFound`: a finding of it is open there, so that the limits for closing hold. Called four
 * times a second for every check and place: nothing is allocated where nothing is raised. `refusedBy` remembers the number of
 * the gate by which each way refused: the same one mostly refuses again, and where nothing is open the others need not be
 * asked, and figures that are below their limit need not be known. It changes no answer, only `absent` and `refused` are not told
 * apart then.
 */
export function ask(fault: Fault, features: Features, place: number, isFound: boolean, refusedBy?: Uint8Array): Answer {
	let answer = absent;
	const isQuick = refusedBy !== undefined;
	for (let w = 0; w < fault.ways.length; w++) {
		const way = fault.ways[w];
		if (!isFound && refusedBy !== undefined) {
			const again = way.gates[refusedBy[w]];
			if (!isPassed(again, way.limits[again.name], features, place, true)) {
				answer = refused;
				continue;
			}
		}
		const refusing = firstClosed(way, features, place, isQuick);
		if (refusing !== undefined && refusedBy !== undefined) refusedBy[w] = way.gates.indexOf(refusing);
		if (refusing === undefined)
			return {
				state: 'raised',
				sign: way.sign(features, place),
				way: way.name,
				margin: marginOf(way, features, place),
			};
		if (refusing.kind === 'ground') continue;
		if (answer === absent) answer = refused;
		if (isFound && answer !== held && stands(way, features, place, fault.ways.length === 1)) answer = held;
	}
	return answer;
}

/** The sign of the first way that still stands, where a state of the channel tells it already; undefined where none does. */
export function standingSign(fault: Fault, features: Features, place: number): Sign | undefined {
	return fault.ways.find(way => stands(way, features, place, fault.ways.length === 1))?.sign(features, place);
}

/** The first gate of a way that refuses; undefined where all are open. `isQuick`: figures need not be worked out. */
export function firstClosed(way: Way, features: Features, place: number, isQuick = false): Gate | undefined {
	for (const gate of way.gates) if (!isPassed(gate, way.limits[gate.name], features, place, isQuick)) return gate;
	return undefined;
}

function isPassed(gate: Gate, limit: Limit, features: Features, place: number, isQuick: boolean): boolean {
	if (gate.kind === 'ground') return gate.holds(features, place);
	if (gate.kind === 'unless') return gate.says(features, place) === undefined;
	if (isQuick && gate.kind !== 'chance' && gate.isBeyond !== undefined)
		return gate.isBeyond(features, place, limit.raise);
	const saw = gate.saw(features, place);
	return gate.kind === 'at most' ? keepsBelow(saw, limit.raise) : reachesLimit(saw, limit.raise);
}

/**
 * Whether no gate speaks against a finding that is open: no figure is back beyond what closes it. Too few chances don't. A
 * figure that cannot be measured just now closes nothing, but where there are several ways it keeps nothing open either.
 */
function stands(way: Way, features: Features, place: number, isOnlyWay: boolean): boolean {
	return way.gates.every(gate => !closes(gate, way.limits[gate.name], features, place, isOnlyWay));
}

function closes(gate: Gate, limit: Limit, features: Features, place: number, isOnlyWay: boolean): boolean {
	if (gate.kind === 'chance') return false;
	if (gate.kind === 'ground') return !gate.holds(features, place);
	if (gate.kind === 'unless') return gate.waits !== true && gate.says(features, place) !== undefined;
	const saw = gate.saw(features, place);
	const {raise, clear = raise} = limit;
	if (saw === undefined) return !isOnlyWay;
	return gate.kind === 'at least' ? saw < clear : saw > clear;
}

function marginOf(way: Way, features: Features, place: number): number {
	let margin = Number.POSITIVE_INFINITY;
	for (const gate of way.gates) {
		if (gate.kind !== 'at least' && gate.kind !== 'at most') continue;
		const {raise} = way.limits[gate.name];
		const saw = gate.saw(features, place);
		if (saw === undefined || !(raise > 0)) continue;
		margin = Math.min(margin, gate.kind === 'at least' ? saw / raise : raise / saw);
	}
	return Number.isFinite(margin) ? margin : 1;
}
