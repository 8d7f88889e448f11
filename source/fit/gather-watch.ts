import type {Session} from '../session/session.ts';
import {FrameFeed} from './frame-feed.ts';
import {Gatherer} from './gather.ts';

/** Gathers the ends of each travel beside a run, as its `watch`: of the sessions of a log the one that is wanted stays, without a wish the last one. */
export class GatherWatch {
	gatherer = new Gatherer(true);
	private readonly wanted: number | undefined;
	private feed = new FrameFeed(this.gatherer);
	private current: Session | undefined;
	private part = 0;

	/** @param wanted Number of the session, from 1. */
	constructor(wanted: number | undefined) {
		this.wanted = wanted;
	}

	/** Takes in what the session has taken in since the last call, a few times a second of stream time. */
	follow(session: Session): void {
		const {wanted} = this;
		if (session !== this.current) {
			this.current = session;
			this.part++;
			if (wanted === undefined || this.part <= wanted) {
				this.gatherer = new Gatherer(true);
				this.feed = new FrameFeed(this.gatherer);
			}
		}

		if (wanted === undefined || this.part <= wanted) this.feed.drain(session);
	}
}
