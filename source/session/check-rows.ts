import type {Fault} from '../faults/fault.ts';
import {type Progress, progressOf} from '../faults/progress.ts';
import {faults} from '../faults/registry.ts';
import {placesOf} from './places.ts';
import type {Session} from './session.ts';
import type {CheckRow} from './snapshot.ts';

/** A check that counts no chances has had its one as soon as it applies. */
const one = {seen: 1, needed: 1, next: null};

/** Every check on every channel it applies to: found, clear, or waiting for a movement; in catalogue and scan order. */
export function checkRows(session: Session): CheckRow[] {
	return faults.flatMap(fault =>
		placesOf(fault, session.features).flatMap(({place, channel}) => {
			const isFound = session.book.isOpenOn(fault.code, channel);
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
	const {seen, needed, next} = progress?.chances ?? one;
	if (isFound) return {code, channel, state: 'found', seen, needed, next: null};
	if (progress === undefined) return undefined;
	const waits = seen < needed || progress.refusal?.waits === true;
	const movement = waits ? (next ?? progress.refusal?.next ?? null) : null;
	return {code, channel, state: waits ? 'waiting' : 'clear', seen, needed, next: movement};
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
	return placesOf(fault, session.features)
		.filter(place => channel === undefined || place.channel === channel)
		.map(({place, channel: name}) => {
			const progress = progressOf(fault, session.features, place);
			const isFound = session.book.isOpenOn(fault.code, name);
			const waiting = {code: fault.code, channel: name, state: 'waiting', seen: 0, needed: 1, next: null} as const;
			return {
				...(rowOf(fault, name, progress, isFound) ?? waiting),
				way: fault.ways.length > 1 ? (progress?.way.name ?? null) : null,
				gate: progress?.refusal?.gate ?? null,
				saw: progress?.refusal?.saw ?? null,
				asks: progress?.refusal?.asks ?? null,
			};
		});
}
