import type {SourceItem} from '../sources/source.ts';
import type {SessionOptions} from './session-options.ts';
import type {Snapshot, TrendBucket} from './snapshot.ts';

/**
 * One pure engine over one source: bytes and times in, snapshots and findings out. It reads no clock, file or port,
 * so the same items give the same findings live, replayed and checked.
 */
export class Session {
	readonly options: SessionOptions;

	constructor(options: SessionOptions) {
		this.options = options;
	}

	/** Takes in one item. Times must not fall. */
	push(_item: SourceItem): void {
		throw new Error('not built yet');
	}

	/** Tells that time has passed without bytes (live sources, a few times a second), so that silence is noticed. */
	advance(_t: number): void {
		throw new Error('not built yet');
	}

	/** The source is over: settles what was pending. `t` defaults to the time of the last item. */
	end(_t?: number): void {
		throw new Error('not built yet');
	}

	/** The state now, as an immutable value. */
	snapshot(): Snapshot {
		throw new Error('not built yet');
	}

	/**
	 * History of a channel between two stream times, lowest and highest reading per bucket, for charts. Reaches back
	 * over the whole session, coarser the older it is; the last minute is complete.
	 */
	trend(_channel: number, _fromSeconds: number, _toSeconds: number, _buckets: number): TrendBucket[] {
		throw new Error('not built yet');
	}

	/** The second around a finding's start, kept when it was flagged: frame times and the readings of one channel (or of all, for link findings). */
	freezeFrame(
		_code: string,
		_channel: string | null,
	):
		| {
				readonly times: readonly number[];
				readonly series: readonly {readonly name: string; readonly values: readonly number[]}[];
		  }
		| undefined {
		throw new Error('not built yet');
	}

	/** Forgets the seen ranges (after a repair), not the findings. */
	resetRanges(): void {
		throw new Error('not built yet');
	}

	/** An independent copy, for replay's checkpoints. */
	clone(): Session {
		throw new Error('not built yet');
	}
}
