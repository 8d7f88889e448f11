import type {Features} from '../features/features.ts';
import type {Fault, Sign, Way} from './fault.ts';
import {asksOf, type Gate, type Limit, type Refusal} from './gates/gate.ts';

/** How far a check has come at one place: chances seen and needed, and the movement that gives the next; null without chances. */
export type Chances = {readonly seen: number; readonly needed: number; readonly next: string | null};

/** What one way of a check answers. */
type WayAnswer = {
	readonly way: Way;
	/** Null where all gates are open. */
	readonly refusal: Refusal | null;
	/** True where the limits of an open finding (`clear`) still let it stand. */
	readonly holds: boolean;
	readonly chances: Chances | null;
};

/** What a check answers of one place. */
export type Answer = {
	/** `absent`: it does not apply here. `raised`: the fault shows. `held`: not enough to raise it, too much to close it. */
	readonly state: 'absent' | 'raised' | 'held' | 'refused';
	readonly sign: Sign | null;
	/** The way that speaks, or the one whose refusal is told: the first in order that came farthest. */
	readonly way: Way | null;
	readonly refusal: Refusal | null;
	/** Chances of the way that has the least of what it needs: before all are full nothing is clear. */
	readonly chances: Chances | null;
	/** How far the weakest figure lies beyond its limit, as a ratio; 1 at the limit, and where no figure is asked. */
	readonly margin: number;
};

const absent: Answer = {state: 'absent', sign: null, way: null, refusal: null, chances: null, margin: 1};

/** Asks a check about one place. `isOpen`: a finding of it is open there, so that limits for closing hold. */
export function ask(fault: Fault, features: Features, place: number, isOpen: boolean): Answer {
	let told: WayAnswer | null = null;
	let least: Chances | null = null;
	let held: WayAnswer | null = null;
	for (const way of fault.ways) {
		const answer = askWay(way, features, place, isOpen);
		if (answer.refusal?.kind === 'ground') continue;
		if (answer.refusal === null)
			return {
				state: 'raised',
				sign: way.sign(features, place),
				way,
				refusal: null,
				chances: answer.chances,
				margin: marginOf(way, features, place),
			};
		if (answer.holds) held ??= answer;
		// The refusal worth telling is the one of the way that came farthest.
		if (told === null || depth(answer) > depth(told)) told = answer;
		if (answer.chances !== null && (least === null || share(answer.chances) < share(least))) least = answer.chances;
	}
	if (told === null) return absent;
	const {way, refusal} = held ?? told;
	return {state: held === null ? 'refused' : 'held', sign: null, way, refusal, chances: least, margin: 1};
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

function depth({way, refusal}: WayAnswer): number {
	return way.gates.findIndex(gate => gate.name === refusal?.gate) / way.gates.length;
}

function share({seen, needed}: Chances): number {
	return needed > 0 ? Math.min(1, seen / needed) : 1;
}

function askWay(way: Way, features: Features, place: number, isOpen: boolean): WayAnswer {
	let refusal: Refusal | null = null;
	let holds = isOpen;
	let chances: Chances | null = null;
	for (const gate of way.gates) {
		const limit = way.limits[gate.name];
		if (refusal === null) refusal = refusalOf(gate, limit, features, place);
		if (refusal?.kind === 'ground') break;
		if (isOpen && holds) holds = !isOver(gate, limit, features, place);
		if (gate.kind === 'chance' && (chances === null || share(chances) >= 1)) {
			const seen = gate.saw(features, place) ?? 0;
			const next = typeof gate.next === 'string' ? gate.next : gate.next(features, place);
			chances = {seen: Math.min(seen, limit.raise), needed: limit.raise, next: seen < limit.raise ? next : null};
		}
		if (gate.kind === 'unless' && gate.waits && refusal?.gate === gate.name && chances !== null && share(chances) >= 1)
			chances = {seen: Math.max(0, chances.needed - 1), needed: chances.needed, next: gate.next ?? null};
	}
	return {way, refusal, holds, chances};
}

/** The first gate that refuses, with what it saw; null where it is open. */
function refusalOf(gate: Gate, limit: Limit, features: Features, place: number): Refusal | null {
	const base = {gate: gate.name, kind: gate.kind, waits: false, next: null};
	if (gate.kind === 'ground')
		return gate.holds(features, place) ? null : {...base, saw: null, asks: gate.asks};
	if (gate.kind === 'unless') {
		const saw = gate.says(features, place);
		if (saw === undefined) return null;
		return {...base, saw, asks: gate.asks, waits: gate.waits === true, next: gate.next ?? null};
	}
	const saw = gate.saw(features, place);
	const asks = asksOf(gate, limit);
	if (gate.kind === 'chance') {
		if (saw !== undefined && saw >= limit.raise) return null;
		const next = typeof gate.next === 'string' ? gate.next : gate.next(features, place);
		return {...base, saw: saw ?? 0, asks, waits: true, next};
	}
	const isBeyond = saw !== undefined && (gate.kind === 'at least' ? saw >= limit.raise : saw <= limit.raise);
	return isBeyond ? null : {...base, saw: saw ?? null, asks, waits: saw === undefined};
}

/** Whether a gate speaks against a finding that is open: its figure is back beyond what closes it. Too few chances don't. */
function isOver(gate: Gate, limit: Limit, features: Features, place: number): boolean {
	if (gate.kind === 'ground') return !gate.holds(features, place);
	if (gate.kind === 'unless') return gate.waits !== true && gate.says(features, place) !== undefined;
	if (gate.kind === 'chance') return false;
	const saw = gate.saw(features, place);
	if (saw === undefined) return false;
	const clear = limit.clear ?? limit.raise;
	return gate.kind === 'at least' ? saw < clear : saw > clear;
}
