import {ColumnWatch} from './column-watch.ts';
import type {LayoutChange} from './frame-sink.ts';
import type {Channel, Layout} from './layout.ts';
import {nameChannels} from './name-channels.ts';
import type {ForcedLayout} from './parse-layout-option.ts';
import type {Teller} from './teller.ts';
import type {TextLayout} from './text-layout.ts';

/** So many bytes without a frame, and the stream may have become something else altogether. */
export const bytesToLose = 2048;

/** After so many frames what the columns are is settled: the roles of four blocks of frames agree (`ColumnWatch`). */
const framesToBelieve = 256;

/** What a layout's columns are called where they are named at all. */
type ColumnLabels = Pick<TextLayout, 'labels' | 'times'>;

/**
 * Owns the layout in force, be it of lines or packets: the values of the frame that is read, what the columns have shown, their
 * names, and how many frames came in it. Tells its frames, and the layout once more whenever a name or a role has changed.
 */
export class LayoutInForce {
	/** What was told last; null until a layout is settled. */
	current: Layout | null = null;
	/** The frame that is read, one value per column. */
	values = new Float64Array(0);
	watch = new ColumnWatch(0);
	/** Names from a header line, until another layout is settled. */
	headerNames: readonly string[] | null = null;
	/** Frames told so far, in whatever layout. */
	framesTotal = 0;
	/** Bytes in which a frame could have come since the last one did. */
	bytesSinceFrame = 0;
	/** Frames of lines and packets that were held are told: the columns have shown theirs already. */
	isReplaying = false;

	private readonly teller: Teller;
	private readonly forced: ForcedLayout | null;
	private labels: ColumnLabels | null = null;
	/** Frames told before those in this layout. */
	private framesBefore = 0;

	constructor(teller: Teller, forced: ForcedLayout | null) {
		this.teller = teller;
		this.forced = forced;
	}

	/** Frames in the layout in force. */
	get frames(): number {
		return this.framesTotal - this.framesBefore;
	}

	/** Begins with other columns, which have shown nothing yet: `watch` is to be shown what was held, then `tell` puts them in force. */
	begin(count: number, labels: ColumnLabels | null, headerNames: readonly string[] | null): void {
		this.labels = labels;
		this.headerNames = headerNames;
		this.values = new Float64Array(count);
		this.watch = new ColumnWatch(count);
	}

	/** Puts in force what was begun; `t` is the time of its first frame. */
	tell(t: number, {framing, separator, checksum, unit}: Omit<Layout, 'labelled' | 'channels'>): void {
		this.watch.guess();
		const change = this.changeNow();
		const labelled = this.headerNames !== null || this.labels?.labels.some(label => label !== null) === true;
		this.current = {framing, separator, labelled, checksum, unit, channels: this.channels()};
		this.teller.sink.layout(t, this.current, change);
	}

	/** Tells the frame that stands in `values`. */
	frame(t: number, lineBytes: number): void {
		if (this.watch.active && !this.isReplaying && this.watch.take(t, this.values)) this.revise(t);
		this.bytesSinceFrame = 0;
		this.framesTotal++;
		this.teller.sink.frame(t, this.values, lineBytes);
	}

	/** Names the columns by a header that came among the frames. */
	rename(t: number, names: readonly string[]): void {
		const renamed = this.headerNames !== null;
		this.headerNames = names;
		this.revise(t, renamed);
	}

	/** Names and roles once more: told only where they have changed. `renamed`: by a header that took the place of another. */
	private revise(t: number, renamed = false): void {
		const {current} = this;
		if (current === null) return;
		const channels = this.channels();
		if (JSON.stringify(channels) === JSON.stringify(current.channels)) return;
		this.current = {...current, labelled: current.labelled || this.headerNames !== null, channels};
		this.teller.sink.layout(t, this.current, renamed ? this.changeNow() : 'corrected');
	}

	private channels(): readonly Channel[] {
		const {forced, labels, watch} = this;
		if (forced !== null && forced.channels.length === watch.count) {
			if (!forced.findClockUnit) return forced.channels;
			return forced.channels.map(channel =>
				channel.role === 'clock'
					? {...channel, clockUnitSeconds: watch.steps.clockUnitSeconds(channel.index)}
					: channel,
			);
		}

		const none = new Array<null>(watch.count).fill(null);
		return nameChannels(this.headerNames ?? labels?.labels ?? none, labels?.times ?? none.map(() => false), watch);
	}

	/** What a layout that is told now is to the one before it. */
	private changeNow(): LayoutChange {
		const change = this.current === null ? 'found' : this.frames < framesToBelieve ? 'corrected' : 'changed';
		this.framesBefore = this.framesTotal;
		return change;
	}
}
