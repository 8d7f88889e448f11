import {leftToProve} from '../session/left-to-prove.ts';
import type {ChannelView, Snapshot} from '../session/snapshot.ts';
import {handChannels} from './channel-rows.ts';

/** What the bench page asks for next where no routine leads it. */
export type Lead = {
	readonly proven: number;
	readonly all: number;
	/** What comes next; undefined once everything is proven. */
	readonly next: ChannelView | undefined;
	/** What to do with it, in a few words. */
	readonly what: string;
	readonly isDone: boolean;
};

/** Assembling in any order: what was begun is what comes next, else the first in the order of building. */
export function benchLead(snapshot: Snapshot, moved: string | null): Lead {
	const left = leftToProve(snapshot.channels);
	const all = handChannels(snapshot).filter(({role, state}) => state !== 'spare' && role !== 'spare').length;
	const begun = left.find(
		({name, state, pulls}) => name === moved && state === 'waiting' && pulls !== null && pulls.seen > 0,
	);
	const next =
		begun ?? left.find(({state}) => state === 'lost') ?? left.find(({state}) => state !== 'faulty') ?? left[0];
	return {
		proven: all - left.length,
		all,
		next,
		what: next === undefined ? '' : whatToDo(next),
		isDone: all > 0 && next === undefined,
	};
}

function whatToDo({role, state, pulls}: ChannelView): string {
	if (state === 'lost') return 'mend its wire';
	if (state === 'faulty') return 'mend it: see below';
	const wire = state === 'open' ? 'wire it, then ' : '';
	const once = pulls !== null && pulls.seen > 0;
	if (role === 'button') return `${wire}press it ${once ? 'once more' : 'twice'}`;
	if (role === 'stick') return `${wire}push it to both ends and let it go, twice`;
	return `${wire}pull its cord and let go, ${once ? 'once more' : 'twice'}`;
}

/** Channels that nothing is wired to yet, and which are no fault for that. */
export function stillToWire(snapshot: Snapshot): readonly string[] {
	return snapshot.channels.filter(({state}) => state === 'open').map(({name}) => name);
}
