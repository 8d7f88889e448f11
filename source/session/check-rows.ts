import {firstClosed} from '../faults/ask.ts';
import {mayExplain} from '../faults/causes.ts';
import type {Fault} from '../faults/fault.ts';
import {asksOf} from '../faults/gates/gate.ts';
import {type Chances, type Progress, progressOf} from '../faults/progress.ts';
import {faults} from '../faults/registry.ts';
import type {Features} from '../features/features.ts';
import {placesOf} from './places.ts';
import type {Session} from './session.ts';
import type {CheckRow} from './snapshot.ts';

/** A check that counts no chances has had its one as soon as it applies. */
const one = {seen: 1, needed: 1, next: null};

/** Every check on every channel it applies to: found, clear, or waiting for a movement; in catalogue and scan order. */
export function checkRows(session: Session): CheckRow[] {
	return faults.flatMap(fault =>
		placesOf(fault, session.features).flatMap(({place, channel}) => {
			const isFound = session.book.isTold(fault, channel);
			// "All together: clear" beside a finding of one of them would read as if there was none.
			if (place < 0 && !isFound) return [];
			const row = rowOf(fault, channel, progressOf(fault, session.features, place), isFound);
			return row === undefined ? [] : [row];
		}),
	);
}

function rowOf(
	{code}: Fault,
	channel: string | null,
	progress: Progress | undefined,
	isFound: boolean,
): CheckRow | undefined {
	const {seen, needed, next} = counted(progress?.chances ?? one);
	if (isFound) return {code, channel, state: 'found', seen, needed, next: null};
	if (progress === undefined) return undefined;
	const waits = seen < needed || progress.refusal?.waits === true;
	const movement = waits ? (next ?? progress.refusal?.next ?? null) : null;
	return {code, channel, state: waits ? 'waiting' : 'clear', seen, needed, next: movement};
}

/** Whole chances, also of those that are seconds watched: never full before they are. */
function counted({seen, needed, next}: Chances): Chances {
	const all = Math.ceil(needed);
	return {seen: seen >= needed ? all : Math.floor(seen), needed: all, next};
}

/** Why a check was not raised on one channel: the gate that refused, what it saw and what it asks. */
export type Why = Omit<CheckRow, 'state'> & {
	/** `absent`: it does not apply there, and is not in the list of checks. */
	readonly state: CheckRow['state'] | 'absent';
	/** Which of several ways in which the fault shows came nearest; null where there is one. */
	readonly way: string | null;
	/** null where it was found. */
	readonly gate: string | null;
	readonly saw: number | string | null;
	readonly asks: string | null;
};

/** The row of each channel a check is asked about (or of `channel` alone), with the gate that refused. */
export function whyRows(session: Session, fault: Fault, channel?: string): Why[] {
	const {features, book} = session;
	return placesOf(fault, features)
		.filter(place => channel === undefined || place.channel === channel)
		.map(({place, channel: name}) => {
			const isFound = book.isTold(fault, name);
			const progress = progressOf(fault, features, place);
			const row = rowOf(fault, name, progress, isFound) ?? {
				...{code: fault.code, channel: name, seen: 0, needed: 0, next: null},
				state: 'absent' as const,
			};
			const way = fault.ways.length > 1 ? (progress?.way.name ?? null) : null;
			if (isFound) return {...row, way, gate: null, saw: null, asks: null};
			const refusal = progress === undefined ? missingGround(fault, features, place) : progress.refusal;
			const {gate, saw, asks} = refusal ?? silenced(session, fault, place, name);
			return {...row, way, gate, saw, asks};
		});
}

/** Of a check that does not apply: the ground that its first way misses. */
function missingGround({ways}: Fault, features: Features, place: number) {
	const gate = firstClosed(ways[0], features, place);
	return gate === undefined ? null : {gate: gate.name, saw: null, asks: asksOf(gate, ways[0].limits[gate.name])};
}

/** Every gate is open and yet nothing is found: it is the ordinary state of a glove being wired, or explained already. */
function silenced({features, book}: Session, fault: Fault, place: number, channel: string | null) {
	if (fault.isCalm?.(features, place) === true)
		return {gate: 'calm', saw: 'a glove that is being wired', asks: 'a glove of which some finger is proven'};
	const cause = book.list().find(finding => mayExplain(finding, fault.code, channel));
	const saw = cause === undefined ? null : cause.channel === null ? cause.code : `${cause.code} on ${cause.channel}`;
	return {gate: 'cause', saw, asks: 'no finding that explains the same readings'};
}
