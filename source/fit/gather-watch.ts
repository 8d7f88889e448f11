import type {FrameHistory} from '../features/frame-history.ts';
import type {Session} from '../session/session.ts';
import {FrameFeed} from './frame-feed.ts';
import {Gatherer} from './gather.ts';

/** What a mark in a recording begins with when it tells which step of a bring-up was asked for. */
export const stepMarkPrefix = 'bring-up: ';

/** Gathers beside a run, as its `watch`: of the sessions of a log the one that is wanted stays, without a wish the last one. */
export class GatherWatch {
	gatherer: Gatherer;
	private readonly wanted: number | undefined;
	private readonly endsOnly: boolean;
	private feed: FrameFeed;
	private current: Session | undefined;
	private part = 0;

	/**
	 * @param wanted Number of the session, from 1.
	 * @param endsOnly Whether the ends of each travel are all that is wanted.
	 */
	constructor(wanted: number | undefined, endsOnly = false) {
		this.wanted = wanted;
		this.endsOnly = endsOnly;
		this.gatherer = new Gatherer(endsOnly);
		this.feed = this.feedOf(this.gatherer);
	}

	/** Takes in what the session has taken in since the last call, a few times a second of stream time. */
	follow(session: Session): void {
		const {wanted} = this;
		if (session !== this.current) {
			this.current = session;
			this.part++;
			if (wanted === undefined || this.part <= wanted) {
				this.gatherer = new Gatherer(this.endsOnly);
				this.feed = this.feedOf(this.gatherer);
			}
		}

		if (wanted === undefined || this.part <= wanted) this.feed.drain(session);
	}

	/** Of a routine that was recorded with what it asked for, the ends of the fingers are those of its whole hand. */
	private feedOf(gatherer: Gatherer): FrameFeed {
		let next = 0;
		let isInHand = false;
		const takeMarks = (t: number): void => {
			const marks = this.current?.marks ?? [];
			for (; next < marks.length && marks[next].t <= t; next++) {
				const {mark} = marks[next];
				if (!mark.startsWith(stepMarkPrefix)) continue;
				const wasInHand = isInHand;
				isInHand = mark === `${stepMarkPrefix}hand`;
				if (isInHand) gatherer.beginHand();
				else if (wasInHand) gatherer.endHand();
			}
		};
		/** Behind the last of these frames that come before the next mark. */
		const beforeMark = (history: FrameHistory, first: number, to: number): number => {
			const mark = this.current?.marks[next];
			if (mark === undefined) return to;
			let frame = first + 1;
			while (frame < to && history.time(frame) < mark.t) frame++;
			return frame;
		};
		return new FrameFeed({
			begin: features => gatherer.begin(features),
			frames: (history, from, to) => {
				for (let first = from; first < to; ) {
					takeMarks(history.time(first));
					const last = beforeMark(history, first, to);
					gatherer.frames(history, first, last);
					first = last;
				}
			},
			block: (features, block) => gatherer.block(features, block),
		});
	}
}
