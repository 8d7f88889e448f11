import {ask, standingSign} from '../faults/ask.ts';
import {ChannelRows} from '../features/channel-rows.ts';
import {Features} from '../features/features.ts';
import {FrameHistory} from '../features/frame-history.ts';
import {LinkFeatures} from '../features/link-features.ts';
import type {TrendBucket} from '../features/trend-history.ts';
import {TrendHistory} from '../features/trend-history.ts';
import type {BadLineKind, FrameSink, LayoutChange} from '../framing/frame-sink.ts';
import {Framer} from '../framing/framer.ts';
import type {Layout} from '../framing/layout.ts';
import {headerLine, type LeftOut} from '../stream/intake.ts';
import {latestSeconds, type SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';
import {ChannelStates} from './channel-states.ts';
import {FindingBook} from './finding-book.ts';
import {type FreezeFrame, freeze} from './freeze-frame.ts';
import {noteRefusals, type Question, questionsOf, refusesAgain} from './places.ts';
import type {SessionOptions} from './session-options.ts';
import type {Finding, Snapshot} from './snapshot.ts';
import {takeSnapshot} from './take-snapshot.ts';
import {firstTickAfter, tickAfter} from './tick-after.ts';

/** Frames a second the firmware is meant to send unless the sheet says otherwise (check-values D5). */
const usualTargetRate = 30;

/** Frames after which the trend takes them in at the latest; the frame history holds eight times as many. */
const framesPerBulk = FrameHistory.capacity / 8;

/** Marks and link events kept, and how much of their text: far beyond what a person makes, little enough to be copied often. */
const mostNotes = 10_000;
const longestNote = 2000;

/** How much of a line that is no frame is looked at, in columns of a terminal. */
const longestExcerpt = 100;

/** After these what comes does not follow what came. */
export const interruptions: ReadonlySet<string> = new Set(['port-lost', 'reattached', 'baud', 'gap', 'session']);

/** Somebody has repaired something: what was learned of the channel that it names, or of all, is forgotten. */
export const forgotten = 'forgotten';

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
	/** Where other columns began, which belong to another session; null while there are none. */
	newColumnsAt: number | null = null;
	private readonly framer: Framer;
	private readonly frozen: {readonly code: string; readonly channel: string | null; readonly frame: FreezeFrame}[] = [];
	readonly channelStates = new ChannelStates();
	/** Between the events `stale` and `fresh` nothing is judged. */
	private isStale = false;
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
			if (this.isStale) return;
			const {meter} = this.options;
			const stage = meter?.enter('framing');
			this.link.takeBytes(t, item.bytes);
			this.framer.push(t, item.bytes);
			if (stage !== undefined) meter?.enter(stage);
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

	/** What the framer took out of lines, or left out that is neither frame nor text of its own. */
	get takenOut(): LeftOut[] {
		const {colouredLines, headedLines, repeatedHeaders, headerLines} = this.framer;
		return [
			{what: 'terminal colours', lines: colouredLines},
			{what: "the head of the board's own logging", lines: headedLines},
			{what: headerLine, lines: headerLines},
			{what: 'a header that is repeated', lines: repeatedHeaders},
		].filter(({lines}) => lines > 0);
	}

	/**
	 * Forgets what was learned of one channel, or of all without a name: ranges, rest points, reach, presses, proofs. An epoch
	 * begins, and what is open is over. A name that no channel has changes nothing.
	 */
	forget(name?: string): void {
		const {features, book, link} = this;
		const named = features.layout.channels.filter(channel => name === undefined || channel.name === name);
		if (named.length === 0) return;
		for (const {role, index} of named) {
			const place = features.placeOf[index];
			if (role === 'button') features.buttons[place].forget();
			else if (place >= 0) {
				features.analog.forgetRange(place);
				if (name !== undefined) features.forget(place);
			}
		}

		if (name === undefined) this.beginEpoch(this.t, link.frames);
		else book.endEpoch(this.t, name);
	}

	get findings(): Finding[] {
		return this.book.list();
	}

	// --- FrameSink: called by the framer

	layout(t: number, layout: Layout, change: LayoutChange = 'found'): void {
		if (this.newColumnsAt !== null) return;
		const before = this.layoutNow;
		if (change === 'changed' && before !== null && this.options.endsAtNewColumns === true) {
			this.newColumnsAt = t;
			return;
		}

		this.layoutNow = layout;
		if (before !== null && JSON.stringify(layout) === JSON.stringify(before)) return;
		if (change === 'changed') {
			this.book.endEpoch(t);
			this.link.beginEpoch(t, this.link.frames);
		} else this.book.dropLayout(before === null ? [] : sameChannels(before, layout), t);
		this.features = new Features(layout, this.link, this.options.fullScale ?? null, this.options.fingers);
		this.features.now = this.t;
		this.features.epochFrom = before === null ? 0 : t;
		this.history = new TrendHistory(layout.channels.length);
		this.link.relayout(layout.channels.find(({role}) => role === 'clock')?.clockUnitSeconds, layout.labelled);
	}

	frame(t: number, values: Float64Array, lineBytes: number): void {
		if (this.newColumnsAt !== null) return;
		const {meter} = this.options;
		const stage = meter?.enter('frames');
		if (this.features.takeFrame(t, values, lineBytes)) this.takeRestart();
		// In bulk is far quicker, as long as the frames are still held.
		if (this.features.history.count % framesPerBulk === 0 && this.options.keepsTrend !== false)
			this.history.take(this.features.history);
		if (stage !== undefined) meter?.enter(stage);
	}

	badLine(t: number, kind: BadLineKind, excerpt: Uint8Array, _offset: number): void {
		if (this.newColumnsAt !== null) return;
		// A line cut short by a reset may carry the first words of the start-up text, and that text may look like labels.
		if (this.link.takeBadLine(t, kind, escapeText(excerpt, longestExcerpt))) this.takeRestart();
	}

	strayLine(t: number, excerpt: Uint8Array, _offset: number): void {
		if (this.newColumnsAt !== null) return;
		if (this.link.takeStrayLine(t, escapeText(excerpt, longestExcerpt))) this.takeRestart();
	}

	private takeEvent(t: number, event: string, detail: string | undefined): void {
		this.isStale = event === 'stale';
		if (event === 'fresh') return;
		if (this.events.length < mostNotes)
			this.events.push(detail === undefined ? {t, event} : {t, event, detail: detail.slice(0, longestNote)});
		this.link.takeEvent(t, event, detail?.slice(0, longestNote));
		if (event === forgotten) this.forget(detail);
		if (!interruptions.has(event)) return;
		this.framer.resync();
		if (event !== 'port-lost') this.beginEpoch(t, this.link.frames);
	}

	private tick(end: number, last: boolean): void {
		const {features, link, book} = this;
		const {meter} = this.options;
		const stage = meter?.enter('blocks');
		const number = Math.round(end / ChannelRows.seconds);
		// What was said by another scale was wrong.
		if (features.closeBlock(end, last)) book.dropLayout([], end);
		link.closeTick(end, this.framer.nonTextBytes, features.analog.excursions.eatenCount, last);
		features.now = end;
		this.takeRestart();
		this.takeLearning(end);
		this.channelStates.update(features, book, this.options.asksAll === true);
		meter?.enter('checks');
		this.askAll(number, end, last);
		meter?.enter('findings');
		book.settle(end);
		if (stage !== undefined) meter?.enter(stage);
	}

	/** A board that started again knows nothing of what it was before. */
	private takeRestart(): void {
		const {restarts} = this.link;
		const count = restarts.count[0];
		if (count === this.restartsSeen) return;
		this.restartsSeen = count;
		this.beginEpoch(restarts.at[restarts.place(count - 1)], restarts.framesBefore[0]);
	}

	/** An epoch begins at `t`, after the session's first `framesBefore` frames: what came since then stays, also where this is noticed late. */
	private beginEpoch(t: number, framesBefore: number): void {
		const {features, link, book} = this;
		features.beginEpoch(Math.max(0, features.history.count - (link.frames - framesBefore)), t);
		link.beginEpoch(t, framesBefore);
		book.endEpoch(t);
	}

	/** While firmware still widens a channel's range nothing is said of it; where an epoch of the channel begins, what is open is over. */
	private takeLearning(now: number): void {
		const {features, book} = this;
		for (let a = 0; a < features.learning.length; a++) {
			if (features.learning[a] === 1) book.withdraw(features.analogName(a), features.epochFrom, now);
			else if (features.epochFromOf(a) === now) book.endEpoch(now, features.analogName(a));
		}
	}

	/** Asks the checks whose turn it is, but those that cannot speak. */
	private askAll(number: number, now: number, last: boolean): void {
		const {features, book} = this;
		const {asksAll = false} = this.options;
		const questions = questionsOf(features);
		for (let q = 0; q < questions.length; q++) {
			const question = questions[q];
			const {code, channel, place, everyTicks, isKnown} = question;
			if (everyTicks > 1 && !last && number % everyTicks !== 0) continue;
			const isFound = !book.isEmpty && book.isOpenOn(code, channel);
			const known = !isFound && isKnown !== null && isKnown(features, place) === true;
			if (isFound || known || asksAll || !refusesAgain(question, features)) this.ask(question, isFound, known, now);
		}
	}

	private ask(question: Question, isFound: boolean, isKnown: boolean, now: number): void {
		const {features, book} = this;
		const {fault, place, channel, refusedBy} = question;
		const asked = ask(
			fault,
			features,
			place,
			isFound || isKnown,
			this.options.asksAll === true ? undefined : refusedBy,
		);
		noteRefusals(question);
		if (asked.sign === null && !isFound && !isKnown) return;
		if (!isFound && fault.isCalm?.(features, place) === true) return;
		const answer =
			isKnown && asked.state === 'held' ? {...asked, sign: standingSign(fault, features, place) ?? null} : asked;
		if (book.note(fault, channel, place, answer, now)) {
			const from = answer.sign?.from ?? now;
			this.frozen.push({code: fault.code, channel, frame: freeze(features, channel, from)});
		}
	}
}

/** Names of the channels that are in the same column in both layouts, with the same role. */
function sameChannels(one: Layout, other: Layout): string[] {
	return one.channels
		.filter(({index, name, role}) => other.channels[index]?.name === name && other.channels[index].role === role)
		.map(({name}) => name);
}
