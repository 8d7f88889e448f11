import type {Features} from '../features/features.ts';
import {firstClosed} from './ask.ts';
import type {Fault, Way} from './fault.ts';
import {asksOf, type Gate, type Refusal} from './gates/gate.ts';

/** How far a check has come at one place: chances seen and needed, and the movement that gives the next. */
export type Chances = {readonly seen: number; readonly needed: number; readonly next: string | null};

/** What a check has to say where it is not raised. */
export type Progress = {
	/** The way that came farthest, and the gate of it that refuses; null where one is raised. */
	readonly way: Way;
	readonly refusal: Refusal | null;
	/** Of the way that has the least of what it needs: before all are full nothing is clear. Null without chances. */
	readonly chances: Chances | null;
};

/** How far a check has come at one place; undefined where it does not apply. */
export function progressOf(fault: Fault, features: Features, place: number): Progress | undefined {
	let told: {way: Way; refusal: Refusal | null; depth: number} | undefined;
	let least: Chances | null = null;
	for (const way of fault.ways) {
		const gate = firstClosed(way, features, place);
		if (gate?.kind === 'ground') continue;
		const depth = gate === undefined ? 1 : way.gates.indexOf(gate) / way.gates.length;
		if (told === undefined || depth > told.depth)
			told = {way, refusal: gate === undefined ? null : refusalOf(gate, way, features, place), depth};
		const chances = chancesOf(way, gate, features, place);
		if (chances !== null && (least === null || share(chances) < share(least))) least = chances;
	}
	return told === undefined ? undefined : {way: told.way, refusal: told.refusal, chances: least};
}

function share({seen, needed}: Chances): number {
	return needed > 0 ? Math.min(1, seen / needed) : 1;
}

/** Chances of the first gate that has too few of them, else of the last that counts any. */
function chancesOf(way: Way, closed: Gate | undefined, features: Features, place: number): Chances | null {
	let chances: Chances | null = null;
	for (const gate of way.gates) {
		if (gate.kind !== 'chance' || (chances !== null && share(chances) < 1)) continue;
		const needed = way.limits[gate.name].raise;
		const seen = Math.max(0, gate.saw(features, place) ?? 0);
		const next = typeof gate.next === 'string' ? gate.next : gate.next(features, place);
		chances = {seen: Math.min(seen, needed), needed, next: seen < needed ? next : null};
	}
	// What is waited for besides is one chance more.
	if (closed?.kind === 'unless' && closed.waits === true && chances !== null && share(chances) >= 1)
		return {seen: Math.max(0, chances.needed - 1), needed: chances.needed, next: closed.next ?? null};
	return chances;
}

function refusalOf(gate: Gate, way: Way, features: Features, place: number): Refusal {
	const base = {gate: gate.name, kind: gate.kind, waits: false, next: null};
	if (gate.kind === 'ground') return {...base, saw: null, asks: gate.asks};
	if (gate.kind === 'unless')
		return {
			...base,
			saw: gate.says(features, place) ?? null,
			asks: gate.asks,
			waits: gate.waits === true,
			next: gate.next ?? null,
		};
	const saw = gate.saw(features, place);
	const asks = asksOf(gate, way.limits[gate.name]);
	if (gate.kind !== 'chance') return {...base, saw: saw ?? null, asks, waits: saw === undefined};
	const next = typeof gate.next === 'string' ? gate.next : gate.next(features, place);
	return {...base, saw: saw ?? 0, asks, waits: true, next};
}
