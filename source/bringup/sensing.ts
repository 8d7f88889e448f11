import type {Features} from '../features/features.ts';
import {leastTurnShare} from '../fit/turning.ts';
import {judgePull} from './judge-pull.ts';
import {PressTracker} from './press-tracker.ts';
import {type Pull, PullTracker} from './pull-tracker.ts';
import {readingAt} from './reading-at.ts';

/** A reading leaves its rest by as much as a turn takes to count as pulled, or by eight times its noise. */
const enterNoise = 8;
/** A stick is pushed, not brushed. */
const stickEnterShare = 0.15;
/** At rest within this share of full scale, or six times its noise; before the noise is known somewhat more. */
const bandShare = 0.01;
const firstBandShare = 0.015;
const bandNoise = 6;

/** What was seen in a frame. */
export type Sighting =
	/** One finger's channel, by itself or with the others; `strength` is its way as a share of its whole travel. */
	| {readonly kind: 'alone' | 'together'; readonly pull: Pull; readonly strength: number}
	/** An axis of the stick, and how far the other went meanwhile. */
	| {readonly kind: 'push'; readonly pull: Pull; readonly sideways: number}
	| {readonly kind: 'press'; readonly column: number};

/** What is known of a column by now; both in the unit of the readings. */
export type Knowledge = {
	/** rms at rest; undefined before the rest step. */
	noise(column: number): number | undefined;
	/** Whole travel; undefined before the reel's step and the hand's. */
	span(column: number): number | undefined;
};

/** Watches all channels of a glove and tells what is pulled, pushed and pressed. */
export class Sensing {
	readonly fingers: readonly PullTracker[];
	/** x and y by name; empty without a stick. */
	readonly sticks: readonly PullTracker[];
	readonly buttons: readonly PressTracker[];
	private readonly features: Features;
	private readonly knowledge: Knowledge;
	private readonly recent: Pull[] = [];
	private readonly pushes: Pull[] = [];
	private fittedTo = '';

	constructor(features: Features, knowledge: Knowledge) {
		this.features = features;
		this.knowledge = knowledge;
		const {channels} = features.layout;
		const columns = (role: string) => channels.filter(channel => channel.role === role).map(({index}) => index);
		this.fingers = columns('finger').map(column => new PullTracker(column, 1, 1));
		const axes = ['stick-x', 'stick-y'].flatMap(name => channels.filter(channel => channel.name === name));
		this.sticks = axes.length === 2 ? axes.map(({index}) => new PullTracker(index, 1, 1)) : [];
		this.buttons = columns('button').map(column => new PressTracker(column));
	}

	/** Takes one frame; hands every sighting to `see`. `isRestStep`: idle levels of buttons are learned. */
	frame(t: number, values: Float64Array, isRestStep: boolean, see: (sighting: Sighting) => void): void {
		this.fitThresholds(isRestStep);
		const {fullScale} = this.features.scale;
		const pulled = this.fingers.filter(({underWay}) => underWay !== undefined);
		for (const tracker of this.fingers) {
			const mayRest = pulled.length === 0 || (pulled.length === 1 && pulled[0] === tracker);
			const pull = tracker.push(t, readingAt(values, tracker.column), fullScale, mayRest);
			if (pull) this.judge(pull, see);
		}

		for (const tracker of this.sticks) {
			const pull = tracker.push(t, readingAt(values, tracker.column), fullScale);
			if (pull) this.judgePush(pull, see);
		}

		const isStill = (tracker: PullTracker) => tracker.underWay === undefined;
		if (this.sticks.every(isStill)) this.pushes.length = 0;
		for (const tracker of this.buttons) {
			const {column} = tracker;
			if (tracker.push(t, readingAt(values, column), isRestStep)) see({kind: 'press', column});
		}
	}

	/** Nothing came for a while: pulls under way are none, and rest levels are found anew. */
	forgetPulls(): void {
		for (const tracker of [...this.fingers, ...this.sticks]) tracker.forget();
		this.recent.length = 0;
		this.pushes.length = 0;
	}

	/** True while neither axis of the stick is pushed. */
	get isStickHome(): boolean {
		return this.sticks.every(({underWay}) => underWay === undefined);
	}

	/** How far the stick is pushed now, the farther axis. */
	get stickOut(): number {
		return Math.max(0, ...this.sticks.map(({underWay}) => Math.abs(underWay?.excursion ?? 0)));
	}

	private fitThresholds(isRestStep: boolean): void {
		const {fullScale} = this.features.scale;
		const key = `${fullScale} ${isRestStep}`;
		if (key === this.fittedTo) return;
		this.fittedTo = key;
		const adapt = (tracker: PullTracker, share: number) => {
			const noise = isRestStep ? 0 : (this.knowledge.noise(tracker.column) ?? 0);
			tracker.enter = Math.max(share * fullScale, enterNoise * noise);
			tracker.band = Math.max((isRestStep ? firstBandShare : bandShare) * fullScale, bandNoise * noise);
		};
		for (const tracker of this.fingers) adapt(tracker, leastTurnShare);
		for (const tracker of this.sticks) adapt(tracker, stickEnterShare);
	}

	private judge(pull: Pull, see: (sighting: Sighting) => void): void {
		const judged = judgePull(pull, this.fingers, this.recent, column => this.scaleOf(column));
		this.recent.push(pull);
		if (this.recent.length > 4 * this.fingers.length) this.recent.shift();
		if (judged.kind !== 'follower') see({kind: judged.kind, pull, strength: judged.strength});
	}

	/** A channel that hardly moved with the hand must not seem to make whole movements later. */
	private scaleOf(column: number): number {
		const {fullScale} = this.features.scale;
		const span = this.knowledge.span(column);
		return span === undefined ? fullScale : Math.max(span, 2 * leastTurnShare * fullScale);
	}

	private judgePush(pull: Pull, see: (sighting: Sighting) => void): void {
		const other = this.sticks.find(({column}) => column !== pull.column);
		const ended = this.pushes.filter(({column, to}) => column !== pull.column && to >= pull.from);
		const ways = [other?.underWay, ...ended].map(each => Math.abs(each?.excursion ?? 0));
		this.pushes.push(pull);
		see({kind: 'push', pull, sideways: Math.max(...ways)});
	}
}
