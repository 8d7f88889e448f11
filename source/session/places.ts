import {causeRank} from '../faults/causes.ts';
import type {Fault, Way} from '../faults/fault.ts';
import type {Gate} from '../faults/gates/gate.ts';
import {faults} from '../faults/registry.ts';
import type {Features} from '../features/features.ts';
import type {Channel} from '../framing/layout.ts';

/** A place a check is asked about, and the name of its channel; null where the link or all channels are meant. */
export type Place = {readonly place: number; readonly channel: string | null};

/** All places a check is asked about under the layout of these features, in scan order. */
export function placesOf({scope, together}: Pick<Fault, 'scope' | 'together'>, features: Features): Place[] {
	if (scope === 'link') return [{place: 0, channel: null}];
	const places = channelsOf(scope, features);
	return together === true && places.length > 0 ? [allTogether, ...places] : places;
}

/** All channels of a check's scope together, asked before each of them. */
const allTogether: Place = {place: -1, channel: null};

function channelsOf(scope: Fault['scope'], {layout, analog, buttons}: Features): Place[] {
	if (scope === 'button') return buttons.map(({column}, place) => ({place, channel: layout.channels[column].name}));
	return analog.columns
		.map((column, place) => ({place, channel: layout.channels[column].name, role: layout.channels[column].role}))
		.filter(({role}) => scope === 'analog' || role === scope)
		.map(({place, channel}) => ({place, channel}));
}

/** What is asked four times a second: a check about one place. */
export type Question = Place & {
	readonly fault: Fault;
	readonly code: string;
	/** Quarter seconds between two looks. */
	readonly everyTicks: number;
	readonly isKnown: NonNullable<Fault['isKnown']> | null;
	/** By which gate each way refused last; see `ask`. */
	readonly refusedBy: Uint8Array;
	/** Numbers of the ways that are not ruled out for good. */
	readonly live: readonly number[];
	/** The gates of each way, all of one shape: hundreds are asked four times a second. */
	readonly ways: readonly (readonly AskedGate[])[];
	/** Of each live way the gate that refused last; see `noteRefusals`. */
	readonly refusing: AskedGate[];
};

/** A gate and what it asks: what V8 calls fastest, of all kinds alike. */
type AskedGate = {
	readonly kind: number;
	readonly ask: (features: Features, place: number, raise: number) => unknown;
	readonly raise: number;
};

/** Kinds of gates as they are asked: open where the answer is true, where there is none, where it is so large, so small. */
const holds = 0;
const says = 1;
const atLeast = 2;
const atMost = 3;

function askedGate(gate: Gate, {limits}: Way): AskedGate {
	if (gate.kind === 'ground') return {kind: holds, ask: gate.holds, raise: 0};
	if (gate.kind === 'unless') return {kind: says, ask: gate.says, raise: 0};
	const {raise} = limits[gate.name];
	if (gate.kind !== 'chance' && gate.isBeyond !== undefined) return {kind: holds, ask: gate.isBeyond, raise};
	return {kind: gate.kind === 'at most' ? atMost : atLeast, ask: gate.saw, raise};
}

/** To be called after a question was asked: which of its gates `refusesAgain` asks from now on. */
export function noteRefusals({ways, live, refusedBy, refusing}: Question): void {
	for (let i = 0; i < live.length; i++) refusing[i] = ways[live[i]][refusedBy[live[i]]];
}

/** Whether the gates by which a check's ways refused last still refuse, all of them: then nothing can be raised by it. */
export function refusesAgain({refusing, place}: Question, features: Features): boolean {
	for (let i = 0; i < refusing.length; i++) {
		const {kind, ask, raise} = refusing[i];
		const answer = ask(features, place, raise);
		if (kind === atLeast ? (answer as number) >= raise : kind === holds ? answer === true : isOpen(answer, kind, raise))
			return false;
	}
	return true;
}

/** An answer that is undefined is neither large nor small. */
function isOpen(answer: unknown, kind: number, raise: number): boolean {
	return kind === says ? answer === undefined : (answer as number) <= raise;
}

/** Whether a way has a ground that never will hold at this place. */
function isRuledOut({gates}: Way, features: Features, place: number): boolean {
	return gates.some(gate => gate.kind === 'ground' && gate.isNever?.(features, place) === true);
}

/** Made once for each layout; what they remember only saves time. */
const asked = new WeakMap<
	Features,
	{
		readonly channels: readonly Channel[];
		readonly questions: readonly Question[];
		readonly byFault: ReadonlyMap<Fault, readonly Question[]>;
	}
>();

/** All questions under the layout of these features, causes before what they explain. */
export function questionsOf(features: Features): readonly Question[] {
	const {channels} = features.layout;
	const known = asked.get(features);
	if (known !== undefined && areAlike(known.channels, channels)) return known.questions;
	const questions = inCauseOrder.flatMap(fault =>
		placesOf(fault, features).map(where => questionAbout(fault, where, features)),
	);
	const byFault = new Map<Fault, Question[]>();
	for (const question of questions) {
		const own = byFault.get(question.fault) ?? [];
		own.push(question);
		byFault.set(question.fault, own);
	}
	asked.set(features, {channels: channels.map(channel => ({...channel})), questions, byFault});
	return questions;
}

function questionAbout(fault: Fault, {place, channel}: Place, features: Features): Question {
	const question = {
		place,
		channel,
		fault,
		code: fault.code,
		everyTicks: fault.everyTicks ?? 1,
		isKnown: fault.isKnown ?? null,
		refusedBy: new Uint8Array(fault.ways.length),
		live: [...fault.ways.keys()].filter(w => !isRuledOut(fault.ways[w], features, place)),
		ways: fault.ways.map(way => way.gates.map(gate => askedGate(gate, way))),
		refusing: [],
	};
	noteRefusals(question);
	return question;
}

/** Those of one check, in scan order. */
export function questionsAbout(fault: Fault, features: Features): readonly Question[] {
	questionsOf(features);
	return asked.get(features)?.byFault.get(fault) ?? [];
}

/** Features that are put back to an earlier state may be of another layout then. */
function areAlike(one: readonly Channel[], other: readonly Channel[]): boolean {
	if (one.length !== other.length) return false;
	for (let i = 0; i < one.length; i++) if (one[i].name !== other[i].name || one[i].role !== other[i].role) return false;
	return true;
}

/** Checks that the bring-up routine alone can answer have no ways. */
const inCauseOrder = faults
	.filter(({ways}) => ways.length > 0)
	.sort((one, other) => causeRank(one.code) - causeRank(other.code));
