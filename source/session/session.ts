import {ask} from '../faults/ask.ts';
import {causeRank} from '../faults/causes.ts';
import type {Fault} from '../faults/fault.ts';
import {faults} from '../faults/registry.ts';
import {isStartUpText} from '../faults/start-up-text.ts';
import {ChannelRows} from '../features/channel-rows.ts';
import {Features} from '../features/features.ts';
import {FrameHistory} from '../features/frame-history.ts';
import {LinkFeatures} from '../features/link-features.ts';
import type {TrendBucket} from '../features/trend-history.ts';
import {TrendHistory} from '../features/trend-history.ts';
import type {BadLineKind, FrameSink} from '../framing/frame-sink.ts';
import {Framer} from '../framing/framer.ts';
import type {Layout} from '../framing/layout.ts';
import {latestSeconds, type SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';
import {ChannelStates} from './channel-states.ts';
import {FindingBook} from './finding-book.ts';
import {type FreezeFrame, freeze} from './freeze-frame.ts';
import type {SessionOptions} from './session-options.ts';
import type {Finding, Snapshot} from './snapshot.ts';
import {placesOf} from './places.ts';
import {takeSnapshot} from './take-snapshot.ts';
import {firstTickAfter, tickAfter} from './tick-after.ts';

/** Frames a second the firmware is meant to send unless the sheet says otherwise (design §5). */
const usualTargetRate = 30;

/** Frames after which the trend takes them in at the latest; the frame history holds eight times as many. */
const framesPerBulk = FrameHistory.capacity / 8;

/** Marks and link events kept, and how much of their text: far beyond what a person makes, little enough to be copied often. */
const mostNotes = 10_000;
const longestNote = 2000;

/** Before a layout is known there are no channels. */
const noLayout: Layout = {framing: 'text', separator: null, labelled: false, checksum: null, unit: null, channels: []};

/**
 * One pure engine over one source: bytes and times in, snapshots and findings out. It reads no clock, file or port,
 * so the same items give the same findings live, replayed and checked. Detectors are asked on a fixed grid of stream
 * time, before any later byte is taken in: neither chunking nor the caller's pace can change an answer.
 */
export class Session implements FrameSink {
	readonly options: SessionOptions;
	layoutNow: Layout | null = null;
	readonly link: LinkFeatures;
	features: Features;
	history = new TrendHistory(0);
	readonly book = new FindingBook();
	readonly events: {readonly t: number; readonly event: string; readonly detail?: string}[] = [];
	readonly marks: {readonly t: number; readonly mark: string}[] = [];
	/** Stream time up to which everything has been taken in. */
	t = 0;
	private readonly framer: Framer;
	private readonly frozen: {readonly code: string; readonly channel: string | null; readonly frame: FreezeFrame}[] = [];
	readonly channelStates = new ChannelStates();
	private restartsSeen = 0;
	private nextTick = ChannelRows.seconds;

	constructor(options: SessionOptions) {
		this.options = options;
		this.framer = new Framer(this, options.layout === undefined ? {} : {layout: options.layout});
		this.link = new LinkFeatures(options.timing, options.baud ?? null, options.targetRate ?? usualTargetRate);
		this.features = new Features(noLayout, this.link, options.fullScale ?? null);
	}

	/** Takes in one item. A time that is none, or below the last one's, is taken as the last one's. */
	push(item: SourceItem): void {
		const t = item.t > this.t ? Math.min(item.t, latestSeconds) : this.t;
		if (t >= this.nextTick) this.advance(t);
		this.t = t;
		// A long silence is over.
		if (this.nextTick - t > ChannelRows.seconds + 1e-6) this.nextTick = firstTickAfter(t, ChannelRows.seconds);
		if ('bytes' in item) {
			this.link.takeBytes(t, item.bytes);
			this.framer.push(t, item.bytes);
		} else if ('event' in item) this.takeEvent(t, item.event, item.detail);
		else if (this.marks.length < mostNotes) this.marks.push({t, mark: item.mark.slice(0, longestNote)});
	}

	/** Tells that time has passed without bytes (live sources, a few times a second), so that silence is noticed. */
	advance(t: number): void {
		const until = Math.min(t, latestSeconds);
		while (this.nextTick <= until + 1e-9) {
			this.tick(this.nextTick, false);
			this.nextTick = tickAfter(this.nextTick, ChannelRows.seconds, this.link.bytes === 0 ? 0 : this.link.lastByteAt);
		}
		if (until > this.t) this.t = until;
	}

	/** The source is over: settles what was pending. `t` defaults to the time of the last item. */
	end(t?: number): void {
		if (t !== undefined) this.advance(t);
		this.framer.end(this.t);
		this.tick(this.t, true);
	}

	/** The state now, as an immutable value. */
	snapshot(): Snapshot {
		return takeSnapshot(this);
	}

	/**
	 * History of a channel between two stream times, lowest and highest reading per bucket, for charts. Reaches back
	 * over the whole session, coarser the older it is.
	 */
	trend(channel: number, fromSeconds: number, toSeconds: number, buckets: number): TrendBucket[] {
		this.history.take(this.features.history);
		return this.history.read(channel, fromSeconds, toSeconds, buckets, this.t);
	}

	/** The second around a finding's start, kept when it was flagged: times and readings of its channel, or of all. */
	freezeFrame(code: string, channel: string | null): FreezeFrame | undefined {
		return this.frozen.find(entry => entry.code === code && entry.channel === channel)?.frame;
	}

	/** Forgets the seen ranges (after a repair), not the findings. */
	resetRanges(): void {
		this.features.analog.resetRanges();
	}

	get findings(): Finding[] {
		return this.book.list();
	}

	// --- FrameSink: called by the framer

	layout(_t: number, layout: Layout): void {
		const same = this.layoutNow !== null && JSON.stringify(layout) === JSON.stringify(this.layoutNow);
		this.layoutNow = layout;
		if (same) return;
		// What was found under a layout that turned out to be wrong was no finding.
		this.book.dropLayout();
		this.features = new Features(layout, this.link, this.options.fullScale ?? null);
		this.features.now = this.t;
		this.history = new TrendHistory(layout.channels.length);
		this.link.relayout(layout.channels.find(({role}) => role === 'clock')?.clockUnitSeconds, layout.labelled);
	}

	frame(t: number, values: Float64Array, lineBytes: number): void {
		this.features.takeFrame(t, values, lineBytes);
		// In bulk is far quicker, as long as the frames are still held.
		if (this.features.history.count % framesPerBulk === 0) this.history.take(this.features.history);
	}

	badLine(t: number, kind: BadLineKind, excerpt: Uint8Array, _offset: number): void {
		// A line cut short by a reset may carry the first words of the start-up text, and that text may look like labels.
		const startUp = this.link.frames > 0 && this.noticeStartUp(t, excerpt);
		this.link.takeBadLine(`${kind}: ${escapeText(excerpt, 100)}`, startUp);
	}

	strayLine(t: number, excerpt: Uint8Array, _offset: number): void {
		const text = escapeText(excerpt, 100);
		this.link.takeStrayLine(t, text);
		if (this.link.frames > 0) this.noticeStartUp(t, excerpt);
	}

	private noticeStartUp(t: number, excerpt: Uint8Array): boolean {
		const text = escapeText(excerpt, 100);
		const {link} = this;
		const pause = t - link.lastFrameAt;
		const startUp = isStartUpText(text, pause, link.banner);
		if (startUp) link.restarted(t, 'text', text);
		return startUp;
	}

	private takeEvent(t: number, event: string, detail: string | undefined): void {
		if (this.events.length < mostNotes)
			this.events.push(detail === undefined ? {t, event} : {t, event, detail: detail.slice(0, longestNote)});
		if (event === 'port-lost') {
			this.link.portLostAt = t;
			this.link.portLostDetail = detail?.slice(0, longestNote) ?? '';
		} else if (event === 'reattached') this.link.reattachedAt = t;
	}

	private tick(end: number, last: boolean): void {
		const {features, link, book} = this;
		const number = Math.round(end / ChannelRows.seconds);
		features.closeBlock(end, last);
		link.closeTick(end, this.framer.nonTextBytes, features.analog.excursions.eatenCount);
		features.now = end;
		this.takeRestarts();
		this.channelStates.update(features, book, end);
		for (const fault of inCauseOrder) {
			if (fault.ways.length === 0 || (!last && number % (fault.everyTicks ?? 1) !== 0)) continue;
			for (const {place, channel} of placesOf(fault, features)) this.ask(fault, place, channel, end);
		}
		book.settle(end);
	}

	/** A board that started again knows nothing of what it was before: an epoch begins. */
	private takeRestarts(): void {
		const {link, features} = this;
		if (link.restarts.length === this.restartsSeen) return;
		this.restartsSeen = link.restarts.length;
		features.beginEpoch();
	}

	private ask(fault: Fault, place: number, channel: string | null, now: number): void {
		const {features, book} = this;
		const answer = ask(fault, features, place, book.isOpenOn(fault.code, channel));
		if (fault.isCalm?.(features, place) === true && !book.isOpenOn(fault.code, channel)) return;
		if (book.note(fault, channel, place, answer, now)) {
			const from = answer.sign?.from ?? now;
			this.frozen.push({code: fault.code, channel, frame: freeze(features, channel, from)});
		}
	}
}

/** Causes are asked before what they explain. */
const inCauseOrder = [...faults].sort((one, other) => causeRank(one.code) - causeRank(other.code));
