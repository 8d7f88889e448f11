import type {Snapshot} from '../session/snapshot.ts';
import type {Gatherer} from './gather.ts';
import {type RobustRange, robustRange} from './robust-range.ts';

/** The ends of each analog channel's travel, by its place: what `check`, `fit`, `compare` and the bring-up tell alike. */
export function confirmedEnds({features: {scale}, channels}: NonNullable<Gatherer['main']>): Map<number, RobustRange> {
	return new Map(
		channels.map(({place, visits}) => [place, robustRange(visits, scale.lowOf(place), scale.highOf(place))] as const),
	);
}

/**
 * A snapshot whose channels tell the confirmed ends of their travel instead of what the engine held for the usable range as
 * it went along. Channels whose ends have not both been visited twice keep theirs.
 */
export function withConfirmedEnds(snapshot: Snapshot, gatherer: Gatherer): Snapshot {
	const {main} = gatherer;
	if (main === undefined) return snapshot;
	const ends = confirmedEnds(main);
	const byName = new Map(main.channels.map(({name, place}) => [name, ends.get(place)] as const));
	return {
		...snapshot,
		channels: snapshot.channels.map(channel => {
			const {low, high} = byName.get(channel.name) ?? {};
			if (low === undefined || high === undefined || (channel.role !== 'finger' && channel.role !== 'stick'))
				return channel;
			return {...channel, usableLow: low.level, usableHigh: high.level, span: high.level - low.level};
		}),
	};
}
