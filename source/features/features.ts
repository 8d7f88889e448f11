import type {Channel, Layout} from '../framing/layout.ts';
import {AnalogFeatures} from './analog-features.ts';
import {BlockHistory} from './block-history.ts';
import {ButtonFeatures} from './button-features.ts';
import {Cycles} from './cycles.ts';
import {FrameHistory} from './frame-history.ts';
import {Hand} from './hand.ts';
import {HumSearch} from './hum-search.ts';
import type {LinkFeatures} from './link-features.ts';
import {Movements} from './movements.ts';
import {Scale} from './scale.ts';
import {StickFeatures} from './stick-features.ts';

/** Converters give 24 bits at most (the sheet's limit). Squares of far larger numbers would drown all others in rounding. */
const mostCounts = 2 ** 26;

/** A reading this many full scales up is none: even 16-bit readings declared as 12-bit stay below it. */
const impossibleScales = 20;

/** Everything measured from the frames of one layout, and from the link; what the detectors look at. */
export class Features {
	readonly layout: Layout;
	readonly link: LinkFeatures;
	readonly history: FrameHistory;
	readonly scale: Scale;
	readonly analog: AnalogFeatures;
	readonly hand: Hand;
	readonly movements: Movements;
	readonly cycles: Cycles;
	readonly hum: HumSearch;
	/** Begun anew where the scale turns out to be another: positions are taken from its middle. */
	stick: StickFeatures | null;
	readonly buttons: readonly ButtonFeatures[];
	/** Stream time of the evaluation under way, seconds. */
	now = 0;
	/** Place among the analog channels, or among the buttons, of each frame column; −1 for the others. */
	readonly placeOf: Int32Array;
	private readonly counterColumn: number;
	private readonly clockColumn: number;
	private blockFrom = 0;
	private blockStart = Number.NaN;

	constructor(layout: Layout, link: LinkFeatures, declaredFullScale: number | null) {
		this.layout = layout;
		this.link = link;
		const {channels} = layout;
		const columnsOf = (wanted: (channel: Channel) => boolean): number[] =>
			channels.filter(wanted).map(channel => channel.index);
		const analog = columnsOf(channel => channel.role === 'finger' || channel.role === 'stick');
		const fingers = analog.map((column, a) => ({column, a})).filter(({column}) => channels[column].role === 'finger');
		this.history = new FrameHistory(channels.length);
		this.scale = new Scale(declaredFullScale, layout);
		this.analog = new AnalogFeatures(analog, this.scale, layout.framing === 'text' || layout.framing === 'json');
		this.hand = new Hand(
			fingers.map(({a}) => a),
			analog.length,
		);
		this.movements = new Movements(analog.length);
		this.cycles = new Cycles(analog.length);
		this.hum = new HumSearch(analog.length);
		const axis = (name: string): number => analog.findIndex(column => channels[column].name === name);
		this.stick =
			axis('stick-x') >= 0 && axis('stick-y') >= 0 ? new StickFeatures(axis('stick-x'), axis('stick-y')) : null;
		this.buttons = columnsOf(channel => channel.role === 'button').map(column => new ButtonFeatures(column));
		this.placeOf = new Int32Array(channels.length).fill(-1);
		analog.forEach((column, a) => {
			this.placeOf[column] = a;
		});
		this.buttons.forEach((button, b) => {
			this.placeOf[button.column] = b;
		});
		this.counterColumn = columnsOf(channel => channel.role === 'counter')[0] ?? -1;
		this.clockColumn = columnsOf(channel => channel.role === 'clock')[0] ?? -1;
	}

	/** Takes one frame in; `values[i]` is column i. */
	takeFrame(t: number, values: Float64Array, lineBytes: number): void {
		if (Number.isNaN(this.blockStart)) this.blockStart = Math.floor(t / BlockHistory.seconds) * BlockHistory.seconds;
		this.dropImpossible(values);
		this.history.push(t, values, lineBytes);
		this.link.takeFrame(t, values, this.counterColumn, this.clockColumn);
		for (const button of this.buttons) button.take(t, values[button.column], this.link.nominal);
	}

	/**
	 * Two numbers run together (`634,631` without its comma in a line that lost another digit elsewhere) are no reading:
	 * a value far beyond full scale next to an ordinary one becomes NaN, and the line counts as damaged. A wrongly declared
	 * scale shows in every reading, so there the one before is as large. What no converter gives is none in any case.
	 */
	private dropImpossible(values: Float64Array): void {
		const {history, scale} = this;
		const limit = scale.railLow + impossibleScales * scale.fullScale;
		const ordinary = scale.railLow + 1.5 * scale.fullScale;
		const before = history.count === 0 ? -1 : history.base(history.count - 1);
		let damaged = false;
		for (const column of this.analog.columns) {
			const value = values[column];
			const isApart = before >= 0 && value > limit && history.values[before + column] <= ordinary;
			if (!isApart && !(Math.abs(value) > mostCounts)) continue;
			values[column] = Number.NaN;
			damaged = true;
		}
		if (damaged) this.analog.excursions.eatenCount++;
	}

	/** Closes the block that ends at grid time `end`, if it holds enough frames; `last` closes it however short. */
	closeBlock(end: number, last = false): void {
		this.now = end;
		const {history} = this;
		const frames = history.count - this.blockFrom;
		if (frames === 0) {
			this.blockStart = end;
			return;
		}
		// A slow stream gathers frames for up to two seconds; at 3 frames/s and less channels are not judged.
		if (frames < BlockHistory.leastFrames && !last && end - this.blockStart < 2) return;
		if (frames < 3) return;
		const from = Math.max(this.blockFrom, history.oldest);
		this.analog.close(history, from, history.count, this.blockStart, end);
		this.hand.close(this.analog, history, from, history.count);
		this.movements.close(this.analog, this.hand, history, from, history.count);
		this.cycles.close(this.analog.trips, this.analog.ends, this.hand.fingers, this.analog.columns, history, end);
		this.stick?.close(this.analog, history, from, history.count);
		this.hum.close(this.analog, this.link, history);
		this.blockFrom = history.count;
		this.blockStart = end;
		this.settleScale();
	}

	/** Recent frames per second, from the blocks; undefined before the first second. */
	get framesPerSecond(): number | undefined {
		const {blocks} = this.analog;
		const from = blocks.firstSince(this.now - 3);
		if (blocks.count - from < 2) return undefined;
		let frames = 0;
		for (let number = from; number < blocks.count; number++) frames += blocks.frames[blocks.slot(number)];
		return frames / (blocks.end[blocks.slot(blocks.count - 1)] - blocks.start[blocks.slot(from)]);
	}

	/** The name of the analog channel at place `a`. */
	analogName(a: number): string {
		return this.layout.channels[this.analog.columns[a]].name;
	}

	/** Counts as a percentage of full scale. */
	percent(counts: number): number {
		return (100 * counts) / this.scale.fullScale;
	}

	private settleScale(): void {
		if (this.scale.sure) return;
		let near = 0;
		const {high} = this.analog.ends;
		for (let a = 0; a < high.length; a++) if (high[a] >= 250 && high[a] <= 255) near++;
		const {stick, scale} = this;
		const before = scale.fullScale;
		scale.settleSmall(near, stick?.restPoint('x'), stick?.restPoint('y'));
		if (stick !== null && scale.fullScale !== before) this.stick = new StickFeatures(stick.x, stick.y);
	}
}
