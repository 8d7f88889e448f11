import type {Features} from '../features/features.ts';
import {FrameFeed} from '../fit/frame-feed.ts';
import {type RunOptions, runSession, type SessionRun} from '../session/run-session.ts';
import type {Session} from '../session/session.ts';
import type {Sheet} from '../sheet/sheet.ts';
import type {Source} from '../stream/source.ts';
import {BringUp, type BringUpEvent} from './bring-up.ts';
import {type BringUpResult, bringUpResult} from './bring-up-result.ts';
import type {StepRecord} from './step-record.ts';

/** What a mark in a recording begins with when it tells which step was asked for. */
export const markPrefix = 'bring-up: ';

export type RunBringUpOptions = Pick<RunOptions, 'session' | 'signal' | 'progress'> & {
	readonly sheet?: Sheet;
	/** Whether somebody reads the prompts now. */
	readonly isPrompted: boolean;
	/** Steps done before; used where the stream has the same columns. */
	readonly earlier?: {readonly columns: readonly string[]; readonly records: readonly StepRecord[]};
	readonly onEvent?: (event: BringUpEvent, bringUp: BringUp) => void;
	/** Called ten times a second of stream time, once there is a layout: `bringUp` may be told to skip or repeat. */
	readonly watch?: (bringUp: BringUp, session: Session) => void;
	/** Called as often before any frame has come. */
	readonly waiting?: (session: Session) => void;
};

export type BringUpRun = SessionRun & {
	/** undefined where no frame came. */
	readonly bringUp: BringUp | undefined;
	readonly result: BringUpResult | undefined;
};

/** Runs the guided routine over a source: live with prompts, or on a recording of somebody doing it. */
export async function runBringUp(source: Source, options: RunBringUpOptions): Promise<BringUpRun> {
	const {sheet, isPrompted, earlier, onEvent, watch, waiting} = options;
	let bringUp: BringUp | undefined;
	let current: Session | undefined;
	let marks = 0;
	let isMarked = false;
	const begin = (features: Features): void => {
		const columns = features.layout.channels.map(({name}) => name);
		if (columns.length === 0) return;
		// A layout found anew (a header after a restart) goes on where the one before was.
		const before = bringUp?.features.layout.channels.map(({name}) => name);
		const known = before ? {columns: before, records: bringUp!.records} : earlier;
		const isSame = known !== undefined && known.columns.join() === columns.join();
		bringUp = new BringUp(features, {
			isPrompted: isPrompted || isMarked,
			...(isSame && {records: known.records}),
			onEvent: event => onEvent?.(event, bringUp!),
		});
	};

	/** Marks that were set before time `t` of the frame to come. */
	const takeMarks = (t: number): void => {
		const all = current?.marks ?? [];
		let id: string | undefined;
		for (; marks < all.length && all[marks].t <= t; marks++) {
			if (all[marks].mark.startsWith(markPrefix)) id = all[marks].mark.slice(markPrefix.length);
		}

		// Of several at once only the last is where the routine was then.
		if (id === undefined) return;
		isMarked = true;
		bringUp?.mark(id, t);
	};

	const feed = new FrameFeed({
		begin,
		frame: (t, values, base) => {
			takeMarks(t);
			bringUp?.frame(t, values, base);
		},
		block: () => undefined,
	});
	const {session, signal, progress} = options;
	const run = await runSession(source, {
		split: false,
		session,
		signal,
		progress,
		watch: running => {
			current = running;
			feed.drain(running);
			if (running.features.history.count === 0) waiting?.(running);
			if (bringUp === undefined) return;
			bringUp.advance(running.t);
			watch?.(bringUp, running);
		},
	});
	bringUp?.end();
	const result =
		bringUp &&
		bringUpResult(bringUp.features, bringUp.steps, bringUp.records, run.snapshot.findings, sheet, isPrompted);
	return {...run, bringUp, result};
}
