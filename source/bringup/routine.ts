import type {Features} from '../features/features.ts';
import {FrameFeed} from '../fit/frame-feed.ts';
import {stepMarkPrefix} from '../fit/gather-watch.ts';
import type {Session} from '../session/session.ts';
import {BringUp, type BringUpEvent} from './bring-up.ts';
import type {StepRecord} from './step-record.ts';

export type RoutineOptions = {
	/** Whether somebody reads the prompts now. */
	readonly isPrompted: boolean;
	/** Millimetres from mark to mark of a ruler that each cord is also pulled along. */
	readonly rulerMm?: number | undefined;
	/** Steps done before; used where the stream has the same columns. */
	readonly earlier?: {readonly columns: readonly string[]; readonly records: readonly StepRecord[]} | undefined;
	readonly onEvent?: ((event: BringUpEvent, bringUp: BringUp) => void) | undefined;
};

/** The guided routine beside a session: hands it every frame, and goes on where it was when the columns are found anew. */
export class Routine {
	/** Undefined before the columns are known. */
	bringUp: BringUp | undefined;
	private readonly options: RoutineOptions;
	private readonly feed: FrameFeed;
	private session: Session | undefined;
	private marks = 0;
	private isMarked = false;

	constructor(options: RoutineOptions) {
		this.options = options;
		this.feed = new FrameFeed({
			begin: features => this.begin(features),
			frames: (history, from, to) => {
				const row = new Float64Array(history.columns.length);
				for (let frame = from; frame < to; frame++) {
					const t = history.time(frame);
					this.takeMarks(t);
					for (let column = 0; column < row.length; column++) row[column] = history.reading(frame, column);
					this.bringUp?.frame(t, row);
				}
			},
			block: () => undefined,
		});
	}

	/** Takes in what the session has taken in since the last call, a few times a second of stream time. */
	follow(session: Session): void {
		this.session = session;
		this.feed.drain(session);
		this.bringUp?.advance(session.t);
	}

	private begin(features: Features): void {
		const columns = features.layout.channels.map(({name}) => name);
		if (columns.length === 0) return;
		// A layout found anew (a header after a restart) goes on where the one before was.
		const {isPrompted, earlier, onEvent} = this.options;
		const before = this.bringUp;
		const known = before
			? {columns: before.features.layout.channels.map(({name}) => name), records: before.records}
			: earlier;
		const isSame = known !== undefined && known.columns.join() === columns.join();
		const bringUp = new BringUp(features, {
			isPrompted: isPrompted || this.isMarked,
			...(isSame && {records: known.records}),
			rulerMm: this.options.rulerMm,
			onEvent: event => onEvent?.(event, bringUp),
		});
		this.bringUp = bringUp;
	}

	/** Marks that were set before time `t` of the frame to come. */
	private takeMarks(t: number): void {
		const all = this.session?.marks ?? [];
		let id: string | undefined;
		for (const {t: at, mark} of all.slice(this.marks)) {
			if (at > t) break;
			this.marks++;
			if (mark.startsWith(stepMarkPrefix)) id = mark.slice(stepMarkPrefix.length);
		}

		// Of several at once only the last is where the routine was then.
		if (id === undefined) return;
		this.isMarked = true;
		this.bringUp?.mark(id, t);
	}
}
