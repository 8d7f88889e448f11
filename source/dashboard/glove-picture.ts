import type {GuideView} from '../bringup/guide.ts';
import type {Snapshot, TrendBucket} from '../session/snapshot.ts';
import type {Position} from './position-bar.ts';

/** A finding's second, as the session kept it. */
export type FreezeFrame = {
	readonly times: readonly number[];
	readonly series: readonly {readonly name: string; readonly values: readonly number[]}[];
};

/** A chart's worth of history, as the dashboard's edge fetched it from the session. */
export type TrendPicture = {
	readonly from: number;
	readonly to: number;
	readonly series: readonly {readonly name: string; readonly buckets: readonly TrendBucket[]}[];
};

/** What is known of the recording being written. */
export type RecordingView = {readonly path: string; readonly bytes: number; readonly error: string | null};

/** One glove as the components see it. */
export type GlovePicture = {
	readonly name: string;
	/** `serial`, `recording`… */
	readonly kind: string;
	readonly baud: number | null;
	/** Freshest state: bars, stick, what moves. */
	readonly live: Snapshot;
	/** State of at most a quarter of a second ago, for the numbers: they must stand still long enough to be read. */
	readonly steady: Snapshot;
	/** Live sources only: seconds since anything came. */
	readonly silentFor: number | null;
	/** The port went away and has not come back: seconds since then. */
	readonly lostFor: number | null;
	/** Seconds by which frames come late, by the board's own clock; null where that cannot be told or is too little. */
	readonly lateBy: number | null;
	readonly recording: RecordingView | null;
	/** The channel that moved last by itself; null until one has. */
	readonly pulled: string | null;
	/** Where a routine leads the bench page. */
	readonly guide: GuideView | null;
	/** Replays only. */
	readonly position: Position | null;
	readonly trend: TrendPicture | null;
	readonly freezeFrame: FreezeFrame | null;
	/** The source has ended, or failed: why, in a line. */
	readonly over: string | null;
	/** Something to say for a while, such as where a recording went. */
	readonly notice: string | null;
};
