import {type Answer, ask} from '../faults/ask.ts';
import type {Fault} from '../faults/fault.ts';
import {faults} from '../faults/registry.ts';
import {placesOf} from './places.ts';
import type {Session} from './session.ts';
import type {CheckRow} from './snapshot.ts';

/** A check that counts no chances has had its one as soon as it applies. */
const one = {seen: 1, needed: 1, next: null};

/** Every check on every channel it applies to: found, clear, or waiting for a movement; in catalogue and scan order. */
export function checkRows(session: Session): CheckRow[] {
	const {features, book} = session;
	return faults.flatMap(fault =>
		placesOf(fault, features).flatMap(({place, channel}) => {
			const isOpen = book.isOpenOn(fault.code, channel);
			const row = rowOf(fault, channel, ask(fault, features, place, isOpen), isOpen);
			return row === undefined ? [] : [row];
		}),
	);
}

function rowOf(fault: Fault, channel: string | null, answer: Answer, isOpen: boolean): CheckRow | undefined {
	const base = {code: fault.code, channel};
	const chances = answer.chances ?? one;
	if (isOpen) return {...base, state: 'found', seen: chances.seen, needed: chances.needed, next: null};
	if (answer.state === 'absent') return undefined;
	const waits = chances.seen < chances.needed || answer.refusal?.waits === true;
	return {...base, state: waits ? 'waiting' : 'clear', seen: chances.seen, needed: chances.needed, next: waits ? (chances.next ?? answer.refusal?.next ?? null) : null};
}

/** Why a check was not raised: of each channel it applies to, the gate that refused, what it saw and what it asks. */
export type Why = CheckRow & {
	readonly way: string | null;
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
			const isOpen = book.isOpenOn(fault.code, name);
			const answer = ask(fault, features, place, isOpen);
			const row = rowOf(fault, name, answer, isOpen) ?? {code: fault.code, channel: name, state: 'waiting', seen: 0, needed: 1, next: null};
			const {refusal, way} = answer;
			return {
				...row,
				way: fault.ways.length > 1 ? (way?.name ?? null) : null,
				gate: refusal?.gate ?? null,
				saw: refusal?.saw ?? null,
				asks: refusal?.asks ?? null,
			};
		});
}
