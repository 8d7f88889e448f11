import {causeRank} from '../faults/causes.ts';
import type {Fault} from '../faults/fault.ts';
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
	/** By which gate each way refused last; see `ask`. */
	readonly refusedBy: Uint8Array;
};

/** Made once for each layout; what they remember only saves time. */
const asked = new WeakMap<Features, {readonly channels: readonly Channel[]; readonly questions: readonly Question[]}>();

/** All questions under the layout of these features, causes before what they explain. */
export function questionsOf(features: Features): readonly Question[] {
	const {channels} = features.layout;
	const known = asked.get(features);
	if (known !== undefined && areAlike(known.channels, channels)) return known.questions;
	const questions = inCauseOrder.flatMap(fault =>
		placesOf(fault, features).map(where => ({...where, fault, refusedBy: new Uint8Array(fault.ways.length)})),
	);
	asked.set(features, {channels: channels.map(channel => ({...channel})), questions});
	return questions;
}

/** Features that are put back to an earlier state may be of another layout then. */
function areAlike(one: readonly Channel[], other: readonly Channel[]): boolean {
	return (
		one.length === other.length &&
		one.every(({name, role}, index) => name === other[index].name && role === other[index].role)
	);
}

/** Checks that the bring-up routine alone can answer have no ways. */
const inCauseOrder = faults
	.filter(({ways}) => ways.length > 0)
	.sort((one, other) => causeRank(one.code) - causeRank(other.code));
