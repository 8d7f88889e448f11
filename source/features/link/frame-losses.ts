import type {StateBlock} from '../state-block.ts';
import {type Arrival, cameAt} from './arrivals.ts';
import {CounterWatch} from './counter-watch.ts';
import {TickHistory} from './tick-history.ts';

/** The window whose loss is told besides the whole (definition). */
const windowSeconds = 20;

/** A lost line end makes one line of two frames. */
const framesPerBadLine = 2;

/** Frames that the board's counter says were sent and that did not come. A damaged line is no lost frame. */
export class FrameLosses {
	/** In this epoch: frames lost, and frames that carried a counter. */
	readonly lost: Float64Array;
	readonly counted: Float64Array;
	/** In the whole session. */
	readonly lostEver: Float64Array;
	readonly countedEver: Float64Array;
	/** When the epoch began, seconds; set by the owner. */
	readonly begunAt: Float64Array;
	/** When the latest loss was noticed, seconds. */
	readonly lostAt: Float64Array;
	/** The worst 20 s of the session: share lost, 0…1, and its times; NaN before. */
	readonly worstShare: Float64Array;
	readonly worstFrom: Float64Array;
	readonly worstTo: Float64Array;
	private readonly counter: CounterWatch;
	private readonly badSince: Float64Array;
	private readonly countedFrom: Float64Array;

	/** `columns` is forgotten with each layout, `state` where an epoch begins, `kept` never. */
	constructor(
		private readonly ticks: TickHistory,
		kept: StateBlock,
		state: StateBlock,
		columns: StateBlock,
	) {
		this.lostEver = kept.floats(1);
		this.countedEver = kept.floats(1);
		this.worstShare = kept.floats(1, Number.NaN);
		this.worstFrom = kept.floats(1, Number.NaN);
		this.worstTo = kept.floats(1, Number.NaN);
		this.countedFrom = kept.floats(1, Number.NaN);
		this.begunAt = state.floats(1, Number.NEGATIVE_INFINITY);
		this.lost = state.floats(1);
		this.counted = state.floats(1);
		this.lostAt = state.floats(1, Number.NaN);
		this.counter = new CounterWatch(columns);
		this.badSince = columns.floats(1);
	}

	/** A damaged line came: it took its counter with it. */
	takeBadLine(): void {
		this.badSince[0] += framesPerBadLine;
	}

	/** Takes the counter of a frame. Returns the number of frames lost before it, or −1 where the counter began anew one frame ago. */
	take(frame: Arrival): number {
		const step = this.counter.take(frame);
		if (Number.isNaN(this.countedFrom[0])) this.countedFrom[0] = frame[cameAt];
		this.counted[0]++;
		this.countedEver[0]++;
		const damaged = this.badSince[0];
		this.badSince[0] = 0;
		if (step.kind === 'restart') return -1;
		const lost = Math.max(0, step.lost - damaged);
		if (lost > 0) {
			this.lost[0] += lost;
			this.lostEver[0] += lost;
			this.lostAt[0] = frame[cameAt];
		}
		return lost;
	}

	/** After a tick has closed: the newest 20 s may be the worst. A session that is shorter has none until it is over. */
	closeTick(end: number, last: boolean): void {
		const from = this.countedFrom[0];
		if (
			Number.isNaN(from) ||
			(end - from < windowSeconds - TickHistory.seconds && !(last && Number.isNaN(this.worstShare[0])))
		)
			return;
		const share = this.windowShare;
		if (!(share > 0) || share <= this.worstShare[0]) return;
		this.worstShare[0] = share;
		this.worstFrom[0] = Math.max(from, end - windowSeconds);
		this.worstTo[0] = end;
	}

	/** Share of this epoch's frames that was lost, 0…1; NaN before the first counter. */
	get share(): number {
		return this.lost[0] / (this.lost[0] + this.counted[0]);
	}

	/** The same over the last 20 s of it; NaN where nothing came. */
	get windowShare(): number {
		return this.windowLost / (this.windowLost + this.windowCounted);
	}

	/** Frames lost, and frames that came with a counter, in the last 20 s. */
	get windowLost(): number {
		return this.ticks.total(this.ticks.lost, windowSeconds, this.begunAt[0]);
	}

	get windowCounted(): number {
		return this.ticks.total(this.ticks.counted, windowSeconds, this.begunAt[0]);
	}

	/** When the first loss of the last 20 s was; NaN without one. */
	get windowFrom(): number {
		return this.ticks.firstIn(this.ticks.lost, windowSeconds, this.begunAt[0]);
	}
}
