import type {Evidence} from '../faults/evidence.ts';
import type {Status} from '../faults/fault-code.ts';
import type {Channel, ChannelRole, Layout} from '../framing/layout.ts';
import type {LeftOut} from '../stream/intake.ts';
import type {ChannelMoves} from './channel-moves.ts';
import type {ChannelState} from './channel-states.ts';

/** One fault seen on one channel, or on the link. Field meanings: schema 2 of `check --json`. */
export type Finding = {
	readonly code: string;
	/** Channel name; null where the link or all channels together are meant. */
	readonly channel: string | null;
	readonly status: Status;
	/** True for exactly one: what to do first. */
	readonly first: boolean;
	/** Seconds: when the condition began. */
	readonly from: number;
	/** Seconds: when enough had been seen to say so. */
	readonly flaggedAt: number;
	/** Seconds: when it ended; null while it lasts. */
	readonly to: number | null;
	/** 0…1. */
	readonly confidence: number;
	/** A measurement in a sentence. */
	readonly summary: string;
	readonly evidence: Evidence;
	/** What to do next, in order; the first is the next thing to measure. */
	readonly advice: readonly string[];
	/** Where a step of the advice can hurt. */
	readonly cautions: readonly string[];
	/** Every stretch in which it was there, oldest first; the last one's end is null while it lasts. */
	readonly spans: readonly (readonly [from: number, to: number | null])[];
	/** A constant fault that is over, its channel proven since: it weighs no more. */
	readonly mended: boolean;
};

/** How far one check has come on one channel (null: the link or all channels together). */
export type CheckRow = {
	readonly code: string;
	readonly channel: string | null;
	readonly state: 'waiting' | 'clear' | 'found';
	/** Occasions on which the fault would have shown, and how many it takes. */
	readonly seen: number;
	readonly needed: number;
	/** The movement that would give the next one; null where none is needed. */
	readonly next: string | null;
};

export type Verdict = 'pass' | 'unproven' | 'attention' | 'fail';

export type Quantiles = {readonly median: number; readonly p95: number; readonly p99: number; readonly max: number};

export type LinkView = {
	readonly frames: number;
	readonly bytes: number;
	readonly badLines: number;
	readonly strayLines: number;
	/** Over the whole session; null until two frames have come or where timing is assumed. */
	readonly framesPerSecond: number | null;
	/** Over the last two seconds. */
	readonly recentFramesPerSecond: number | null;
	readonly intervalMs: Quantiles | null;
	/** Interarrival jitter of RFC 3550. */
	readonly jitterMs: number | null;
	readonly bytesPerSecond: number | null;
	/** Share of the line's capacity in use, 0…1; null without a baud rate. */
	readonly lineLoad: number | null;
	/** Frames that the counter says were lost, and their share in per cent; null without a counter. */
	readonly lost: number | null;
	readonly lostPercent: number | null;
	/** The 20 s in which most were lost; null where none was. */
	readonly worstWindow: {readonly from: number; readonly to: number; readonly lostPercent: number} | null;
	/** Times in which no frame came: gaps of at least 200 ms and five intervals. 0 where timing is assumed. */
	readonly outages: number;
	readonly longestOutageMs: number | null;
	/** The last bad line, escaped for a terminal. */
	readonly lastBadLine: string | null;
	/** Seconds since the last byte came. */
	readonly silentForSeconds: number;
	/** Counts of frame intervals in bins of equal width on a log scale: bin i covers 2^(i/4) … 2^((i+1)/4) × 0.1 ms, 60 bins. */
	readonly intervalHistogram: readonly number[];
};

export type ButtonView = {
	readonly pressed: boolean;
	readonly presses: number;
	readonly shortestPressMs: number | null;
	/** Presses with extra edges within 25 ms. */
	readonly bounces: number;
};

export type ChannelView = {
	readonly index: number;
	readonly name: string;
	readonly role: ChannelRole;
	/** Which hand it is on and its name there, where a stream carries two. */
	readonly hand?: Channel['hand'];
	readonly nameOnHand?: string;
	/** Declared, or inferred from the values seen; null while it can't be told. */
	readonly fullScale: number | null;
	readonly now: number;
	readonly min: number;
	readonly max: number;
	readonly mean: number;
	/** max − min of what was seen, without lone glitches; null before the first frame. */
	readonly span: number | null;
	/** Usable ends: the range without lone glitches. */
	readonly usableLow: number | null;
	readonly usableHigh: number | null;
	/** rms at rest in counts, detrended; null until a rest has been seen. */
	readonly restNoise: number | null;
	readonly moving: boolean;
	/** Check-values D2, the same word everywhere. */
	readonly state: ChannelState;
	/** Seconds: until then its firmware was learning its range; null where it did not, or still does. */
	readonly learnedUntil: number | null;
	/** Seconds of stream time of the last movement; null if it never moved. */
	readonly lastMovedAt: number | null;
	/** Travel in the last 0.5 s as a share of full scale, 0…1: what is being pulled right now is the largest. */
	readonly activity: number;
	readonly button: ButtonView | null;
} & ChannelMoves;

export type StickView = {
	readonly x: string;
	readonly y: string;
	/** Rest point in counts; null until a rest has been seen. */
	readonly restX: number | null;
	readonly restY: number | null;
	/** Farthest reach from mid-scale in eight directions (right, down-right, down, … counter-clockwise from +x in 45° steps), share of half scale. */
	readonly reach: readonly number[];
	/** Radius around the rest point that covers the rest scatter, counts. */
	readonly deadZone: number | null;
};

/** The state of a session at one moment. Immutable: the screen may keep it. */
export type Snapshot = {
	/** Stream time in seconds up to which everything has been taken in. */
	readonly t: number;
	readonly layout: Layout | null;
	readonly link: LinkView;
	readonly channels: readonly ChannelView[];
	readonly stick: StickView | null;
	/** True while the fingers move together or alone. */
	readonly handMoving: boolean;
	/** In order of `flaggedAt`. */
	readonly findings: readonly Finding[];
	readonly events: readonly {readonly t: number; readonly event: string; readonly detail?: string}[];
	readonly marks: readonly {readonly t: number; readonly mark: string}[];
	/** Every check that applies, on every channel; worked out when first asked for, of the session as it then stands. */
	readonly checks: readonly CheckRow[];
	/** Calm sentences that are no findings: inputs not wired yet. */
	readonly notes: readonly string[];
	/** What was taken out of lines before they were looked at as frames. */
	readonly takenOut?: readonly LeftOut[];
	readonly verdict: Verdict;
};

/** One bucket of a channel's history: lowest and highest reading; NaN in both where no frame fell into it. */
export type {TrendBucket} from '../features/trend-history.ts';
