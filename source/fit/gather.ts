import type {Features} from '../features/features.ts';
import type {FrameHistory} from '../features/frame-history.ts';
import {EndVisits} from './end-visits.ts';
import type {FrameObserver} from './frame-feed.ts';
import {forEachReading, GlitchFilter} from './glitch-filter.ts';
import {RailCrossings} from './rail-crossings.ts';
import {RestScatter} from './rest-scatter.ts';
import {SpeedHistogram} from './speed-histogram.ts';

/** What was gathered of one analog channel over the whole session. */
export type GatheredChannel = {
	readonly name: string;
	/** Column of the frame. */
	readonly column: number;
	/** Place among the analog channels. */
	readonly place: number;
	readonly role: 'finger' | 'stick';
	visits: EndVisits;
	readonly rest: RestScatter;
	readonly speeds: SpeedHistogram;
	readonly crossings: RailCrossings;
	readonly glitches: GlitchFilter;
};

/** What was gathered of one layout. */
export type GatheredLayout = {
	readonly features: Features;
	readonly channels: readonly GatheredChannel[];
	frames: number;
	firstAt: number;
	lastAt: number;
	/** Blocks in which each channel was known to go with the other fingers, less those in which it went against them. */
	readonly along: Float64Array;
	/** Blocks in which either was known. */
	readonly alongBlocks: Float64Array;
};

/** Gathers what the settings are computed from, over all frames of a session. */
export class Gatherer implements FrameObserver {
	private readonly layouts: GatheredLayout[] = [];
	private readonly endsOnly: boolean;
	/** What comes is no movement of the hand: it makes no ends of a finger's travel. */
	private leavesOutEnds = false;

	/** @param endsOnly Whether the ends of each travel are all that is wanted (`confirmedEnds`): all else stays empty. */
	constructor(endsOnly = false) {
		this.endsOnly = endsOnly;
	}

	/** The layout that most frames came in; undefined before the first frame. */
	get main(): GatheredLayout | undefined {
		const full = this.layouts.filter(({frames}) => frames > 0);
		return full.sort((one, other) => other.frames - one.frames)[0];
	}

	begin(features: Features): void {
		const {analog, layout} = features;
		const channels = analog.columns.map((column, place): GatheredChannel => {
			const speeds = new SpeedHistogram();
			const crossings = new RailCrossings();
			const {scale} = analog;
			const glitches = new GlitchFilter(through => {
				if (!this.leavesOutEnds || channel.role === 'stick') channel.visits.take(through, scale.fullScale);
				if (this.endsOnly) return;
				forEachReading(through, (t, reading) => {
					speeds.push(t, reading, scale.fullScale);
					crossings.push(t, (reading - scale.lowOf(place)) / scale.fullScale);
				});
			});
			const {name, role} = layout.channels[column];
			const channel: GatheredChannel = {
				name,
				column,
				place,
				role: role === 'stick' ? 'stick' : 'finger',
				visits: new EndVisits(),
				rest: new RestScatter(),
				speeds,
				crossings,
				glitches,
			};
			return channel;
		});
		this.layouts.push({
			features,
			channels,
			frames: 0,
			firstAt: Number.NaN,
			lastAt: Number.NaN,
			along: new Float64Array(channels.length),
			alongBlocks: new Float64Array(channels.length),
		});
	}

	/** A routine that tells what it asked for has come to the movements of the whole hand: ends begin there. */
	beginHand(): void {
		this.leavesOutEnds = false;
		for (const channel of this.layouts[this.layouts.length - 1]?.channels ?? [])
			if (channel.role === 'finger') channel.visits = new EndVisits();
	}

	/** It has left them: cords that are pulled by hand, and fingers that are moved alone, make no ends. */
	endHand(): void {
		this.leavesOutEnds = true;
	}

	frames(history: FrameHistory, from: number, to: number): void {
		const layout = this.layouts[this.layouts.length - 1];
		if (layout.frames === 0) layout.firstAt = history.time(from);
		layout.lastAt = history.time(to - 1);
		layout.frames += to - from;
		const {fullScale} = layout.features.scale;
		for (const {glitches, column} of layout.channels) glitches.takeFrames(history, column, from, to, fullScale);
	}

	block(features: Features, block: number): void {
		if (this.endsOnly) return;
		const layout = this.layouts[this.layouts.length - 1];
		for (const {rest, place} of layout.channels) {
			rest.take(features, block, place);
			const sign = features.handAt(place)?.sense[place] ?? 0;
			layout.along[place] += sign;
			layout.alongBlocks[place] += Math.abs(sign);
		}
	}
}
