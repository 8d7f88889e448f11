import type {LayoutChange} from '../framing/frame-sink.ts';
import type {Layout} from '../framing/layout.ts';
import type {Sheet} from '../sheet/sheet.ts';
import {type Conversion, type ConversionOptions, conversionsFor, type ReadingScale} from './convert-readings.ts';
import {type FrameColumn, frameColumns, headingOf, placesIn} from './frame-columns.ts';
import type {FrameTaker} from './frame-tap.ts';
import {type FrameText, frameText} from './frame-text.ts';
import type {FrameFormat} from './frame-words.ts';
import type {LineTemplate} from './line-template.ts';
import {Resampler} from './resampler.ts';

export type FramesOutOptions = ConversionOptions & {
	readonly format: FrameFormat | LineTemplate;
	/** Headings to write, comma separated; all without it. */
	readonly columns?: string;
	/** Frames per second of an even grid. */
	readonly resample?: number;
	/** Seconds before lines of the formats without a column for them. */
	readonly stamp?: boolean;
	readonly sheet?: Sheet;
	readonly scale?: ReadingScale;
	/** What the columns are, where that is known beforehand: what the stream says later changes no heading. */
	readonly layout?: Layout;
};

/** Where the text goes. */
export type FramesSink = {
	/** Once, before the first row: what each reader has to get first. May be empty. */
	head(text: string): void;
	row(text: string): void;
	/** A sentence for whoever watches. */
	tell(line: string): void;
};

/**
 * From frames to text: settles the columns by the first layout, finds their readings in each frame, converts and writes them. The columns
 * stay as they were settled: a table has one head.
 *
 * `layout` and `frame` throw `CannotError` where options do not go with what the stream turns out to hold.
 */
export class FramesOut implements FrameTaker {
	/** Rows written so far. */
	rows = 0;
	private readonly options: FramesOutOptions;
	private readonly sink: FramesSink;
	private readonly resampler: Resampler | undefined;
	private now: Layout | undefined;
	private settled: Layout | undefined;
	private columns: readonly FrameColumn[] = [];
	private conversions: readonly Conversion[] = [];
	private places: Int32Array = new Int32Array(0);
	private row = new Float64Array(0);
	private text: FrameText | undefined;

	constructor(options: FramesOutOptions, sink: FramesSink) {
		this.options = options;
		this.sink = sink;
		if (options.resample !== undefined) {
			this.resampler = new Resampler(options.resample, (t, values) => {
				this.row.set(values);
				this.write(t, this.row);
			});
		}

		if (options.layout !== undefined) this.settle(options.layout);
	}

	layout(_t: number, layout: Layout, change: LayoutChange): void {
		this.now = layout;
		const {settled} = this;
		if (settled === undefined) {
			this.settle(layout);
			return;
		}

		this.places = placesIn(layout, settled, this.columns);
		// Where the columns were known beforehand, this was told with them.
		if (this.options.layout === undefined && change !== 'found') this.tellChange(layout);
	}

	frame(t: number, values: Float64Array): void {
		const {row, places} = this;
		for (let i = 0; i < row.length; i++) row[i] = places[i] < 0 ? Number.NaN : values[places[i]];
		if (this.resampler === undefined) this.write(t, row);
		else this.resampler.frame(t, row);
	}

	/** The stream is over. */
	end(): void {
		this.resampler?.end();
	}

	private settle(layout: Layout): void {
		const {options} = this;
		this.settled = layout;
		this.now ??= layout;
		this.columns = frameColumns(layout, options.columns);
		this.conversions = conversionsFor(this.columns, options, options.sheet, options.scale);
		this.places = placesIn(this.now, layout, this.columns);
		this.row = new Float64Array(this.columns.length);
		this.text = frameText(
			options.format,
			this.columns.map(({heading}) => heading),
			options.stamp === true,
		);
		this.sink.head(this.text.head);
	}

	private write(t: number, row: Float64Array): void {
		if (this.text === undefined) return;
		for (let i = 0; i < row.length; i++) row[i] = this.conversions[i](row[i]);
		this.rows++;
		this.sink.row(this.text.row(t, row));
	}

	private tellChange(layout: Layout): void {
		const others = this.columns.flatMap(({heading}, i) => {
			const place = this.places[i];
			const channel = layout.channels[place];
			if (place < 0) return [`${heading} comes no more`];
			const name = headingOf(channel);
			return name === heading ? [] : [`${heading} turns out to be ${name}`];
		});
		if (others.length > 0)
			this.sink.tell(`${others.join(', ')}; headings stay as they are. --layout names the columns beforehand.`);
	}
}
