/**
 * The pure core for other programs, as `glovebench/session`: bytes with their times in, snapshots and findings out. It
 * reads no clock, file or port. What stands here is kept; what lies behind it may change from version to version.
 */
import type {SourceItem} from '../stream/source-item.ts';
import type {FreezeFrame} from './freeze-frame.ts';
import {Session} from './session.ts';
import type {SessionOptions} from './session-options.ts';
import type {Snapshot, TrendBucket} from './snapshot.ts';

export type {ChannelRole, Layout} from '../framing/layout.ts';
export type {LinkEvent, SourceItem, Timing} from '../stream/source-item.ts';
export type {FreezeFrame} from './freeze-frame.ts';
export type {SessionOptions} from './session-options.ts';
export type {
	ButtonView,
	ChannelView,
	CheckRow,
	Finding,
	LinkView,
	Quantiles,
	Snapshot,
	StickView,
	TrendBucket,
	Verdict,
} from './snapshot.ts';

/** One source under observation. The same items give the same answers, whenever and however they are pushed. */
export type GloveSession = {
	/** Stream time in seconds up to which everything has been taken in. */
	readonly t: number;
	/** Takes in one item. A time that is none, or below the last one's, is taken as the last one's. Never throws. */
	push(item: SourceItem): void;
	/** Tells that time has passed without bytes (a live source, a few times a second), so that silence is noticed. */
	advance(seconds: number): void;
	/** The source is over: settles what was pending. Default: at the time of the last item. */
	end(seconds?: number): void;
	/** The state now, as an immutable value. */
	snapshot(): Snapshot;
	/** Lowest and highest reading of a channel per bucket between two stream times, for charts. */
	trend(channel: number, fromSeconds: number, toSeconds: number, buckets: number): readonly TrendBucket[];
	/** The second around a finding's start, kept when it was flagged; undefined where there is none. */
	freezeFrame(code: string, channel: string | null): FreezeFrame | undefined;
};

/** Begins a session. `{timing: 'measured'}` is enough: whatever is left out is found out from the stream. */
export function createSession(options: SessionOptions): GloveSession {
	return new Session(options);
}
