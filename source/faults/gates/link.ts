import type {Features} from '../../features/features.ts';
import {chances, type Gate, ground, type Limit, lasting} from './gate.ts';

/** What the link's checks wait for. */
export const listen = 'let it run on';

/** Times are those of arrival: live, a recording, or a log that has them. */
export const isTimed: Gate = lasting('times', 'times of arrival, not made-up ones', ({link}) => link.isTimed);

/** Times tell single frames apart, too. */
export const spacingKnown: Gate = ground(
	'spacing',
	'times of arrival, finer than the frames come',
	({link}) => link.spacing.isKnown,
);

/** Frames carry a number of their own. */
export const hasCounter: Gate = ground('counter', 'a frame counter', ({layout}) =>
	layout.channels.some(({role}) => role === 'counter'),
);

/** The source is over: what was seen is all there is. */
export const isOver: Gate = ground('over', 'a stream that is over', ({link}) => link.over[0] === 1);

/** What comes before the first frame is the first boot and its text. */
export const heard: Limit = {
	raise: 1,
	must: 1,
	mustNot: null,
	unit: 'frames',
	because: 'what comes before the first frame is the first boot and its text; common practice, no source',
};

/** Counts all frames of the session against `heard`. */
export const hasHeard: Gate = chances('heard', ({link}) => link.frames, listen);

/** Counts seconds of this epoch in which frames came against the limit of this name. */
export function seconds(name: string): Gate {
	return chances(name, ({link}) => epochSeconds(link), listen);
}

function epochSeconds(link: Features['link']): number {
	return link.arrivals.inEpoch > 0 ? link.lastFrameAt - link.arrivals.firstInEpoch : 0;
}
