import type {ChannelView, Snapshot} from '../session/snapshot.ts';
import {handChannels} from './channel-rows.ts';

/** Movements that end within so many seconds of each other were made together. */
const togetherSeconds = 0.6;

/** How much farther than the channel shown another must have gone to take its place: neighbours follow a moved finger. */
const takeOver = 1.5;

/** So long after its last reading a movement is one that is being made, seconds. */
const nowSeconds = 0.6;

/** What can be named as having moved: no open pin ever is, nor what was lost. */
function mayBeNamed({state}: ChannelView): boolean {
	return state !== 'open' && state !== 'lost' && state !== 'learning' && state !== 'spare';
}

/**
 * The channel that moved last by itself, pinned to the last movement that counts towards a proof. Of several that moved
 * together the one that went farthest; while the one shown is among them, another takes its place only where it clearly
 * went farther, so that large letters don't flicker when a whole hand moves.
 */
export function movedLast(snapshot: Snapshot, lately: string | null): ChannelView | undefined {
	const moved = handChannels(snapshot).filter(channel => channel.movedItselfAt !== null && mayBeNamed(channel));
	const newest = Math.max(...moved.map(({movedItselfAt}) => movedItselfAt!));
	const together = moved.filter(({movedItselfAt}) => newest - movedItselfAt! <= togetherSeconds);
	const farthest = together.reduce<ChannelView | undefined>(
		(best, channel) => (best === undefined || channel.movedBy > best.movedBy ? channel : best),
		undefined,
	);
	const shown = together.find(({name}) => name === lately);
	return shown && farthest && farthest.movedBy < takeOver * shown.movedBy ? shown : farthest;
}

/** Whether the channel is moving itself at this moment. */
export function movesNow(channel: ChannelView, {t}: Snapshot): boolean {
	if (channel.button !== null) return channel.button.pressed;
	return channel.movedItselfAt !== null && t - channel.movedItselfAt <= nowSeconds;
}
