import type {Features} from '../features/features.ts';
import {EndVisits} from '../fit/end-visits.ts';
import {GlitchFilter} from '../fit/glitch-filter.ts';
import {robustRange} from '../fit/robust-range.ts';
import {alignPulls} from './align-pulls.ts';
import {judgePull} from './judge-pull.ts';
import {PressTracker} from './press-tracker.ts';
import {type Pull, PullTracker} from './pull-tracker.ts';
import type {KeptPull, KeptRange, Outcome, StepRecord} from './step-record.ts';
import {type Step, stepsFor, times} from './steps.ts';
import {TurnTracker} from './turn-tracker.ts';

/** A reading leaves its rest by this share of full scale to count as pulled, or by eight times its noise. */
const enterShare = 0.06;
const enterNoise = 8;
/** A stick is pushed, not brushed. */
const stickEnterShare = 0.15;
/** At rest within this share of full scale, or six times its noise; before the noise is known somewhat more. */
const bandShare = 0.01;
const firstBandShare = 0.015;
const bandNoise = 6;

/** How long everything must lie still, and after how long that is given up for channels that won't. */
const restSeconds = 3;
const restlessSeconds = 8;

/** A finger bent alone goes at least this far of its own range: a neighbour that follows does not. */
const aloneShare = 0.5;

/** A push to a side leaves the other axis under this share of it (18° off the axis is a third; a diagonal is no answer). */
const sidewaysShare = 0.7;
const pushShare = 0.25;

/** Nothing answers for this long: the step is given up. Time to read, grasp and pull. */
const patienceSeconds = 25;

/** Movements of the whole hand after which a routine that nobody is prompted through has left the reels. */
const handsToMoveOn = 2;

/** Two turns, less what is lost on the way out to the rim. */
const leastTurns = 1.9;

/** What happened, for the screen and the transcript. */
export type BringUpEvent =
	| {readonly kind: 'step'; readonly t: number; readonly step: Step}
	| {readonly kind: 'end'; readonly t: number; readonly record: StepRecord}
	| {readonly kind: 'hint'; readonly t: number; readonly text: string};

export type BringUpOptions = {
	/** Whether somebody reads the prompts. Without, a recording's pulls are told apart by their order alone. */
	readonly isPrompted: boolean;
	/** Steps that were done before the routine was broken off. */
	readonly records?: readonly StepRecord[];
	readonly onEvent?: (event: BringUpEvent) => void;
};

/**
 * The guided routine: takes frames, sees by itself that a step is done, and goes on. It knows neither clock nor screen;
 * the same frames give the same steps live and replayed.
 */
export class BringUp {
	readonly steps: readonly Step[];
	readonly records: StepRecord[] = [];
	readonly features: Features;
	/** Movements counted in the current step. */
	count = 0;
	/** What the current step has been answered with that does not fit; null without. */
	hint: string | null = null;
	isPrompted: boolean;
	private readonly onEvent: (event: BringUpEvent) => void;
	private readonly fingers: PullTracker[];
	private readonly sticks: PullTracker[];
	private readonly buttons: PressTracker[];
	private readonly turns: TurnTracker | undefined;
	private readonly recent: Pull[] = [];
	private index = 0;
	private t = Number.NaN;
	private startedAt = Number.NaN;
	private answeredAt = Number.NaN;
	/** Of the current step. */
	private readonly seen = new Map<number, Pull[]>();
	private handPulls: Pull[] = [];
	private handUntil = Number.NEGATIVE_INFINITY;
	private visits: {readonly column: number; readonly filter: GlitchFilter; readonly visits: EndVisits}[] = [];
	/** Of the phase: single pulls in order, for when nobody was prompted. */
	private phase: Pull[] = [];
	private phaseFirst = 0;
	/** When both axes were at rest for the first time in the current step. */
	private stickHomeAt = Number.POSITIVE_INFINITY;
	private thresholdsFor = Number.NaN;
	private hasNoise = false;

	constructor(features: Features, options: BringUpOptions) {
		const {channels} = features.layout;
		this.features = features;
		this.steps = stepsFor(channels);
		this.isPrompted = options.isPrompted;
		this.onEvent = options.onEvent ?? (() => undefined);
		const track = (role: string) =>
			channels.filter(channel => channel.role === role).map(({index}) => new PullTracker(index, 1, 1));
		this.fingers = track('finger');
		this.sticks = track('stick');
		this.buttons = channels.filter(({role}) => role === 'button').map(({index}) => new PressTracker(index));
		this.turns = this.sticks.length === 2 ? new TurnTracker() : undefined;
		for (const record of options.records ?? []) {
			if (this.steps[this.index]?.id !== record.id) break;
			this.records.push(record);
			this.index++;
		}

		this.phaseFirst = this.index;
	}

	/** The step under way; undefined when all are done. */
	get step(): Step | undefined {
		return this.steps[this.index];
	}

	/** How many movements the step asks for. */
	get need(): number {
		return this.step === undefined ? 0 : times[this.step.kind];
	}

	get isOver(): boolean {
		return this.index >= this.steps.length;
	}

	/** The column that a finger, axis or button should be on by its name. */
	columnOf(name: string): number {
		return this.features.layout.channels.findIndex(channel => channel.name === name);
	}

	/** Takes one frame: `values[base + column]`. */
	frame(t: number, values: Float64Array, base: number): void {
		if (this.isOver) return;
		if (Number.isNaN(this.startedAt)) this.begin(t);
		this.t = t;
		this.setThresholds();
		const {fullScale} = this.features.scale;
		for (const tracker of this.fingers) {
			const pull = tracker.push(t, values[base + tracker.column], fullScale);
			if (pull) this.takePull(pull);
		}

		for (const {column, filter} of this.visits) filter.push(t, values[base + column], fullScale);
		for (const tracker of this.sticks) {
			const push = tracker.push(t, values[base + tracker.column], fullScale);
			if (push) this.takePush(push);
		}

		if (t < this.stickHomeAt && this.sticks.every(({underWay}) => underWay === undefined)) this.stickHomeAt = t;
		this.followTurns(values, base);
		for (const tracker of this.buttons) {
			if (tracker.push(t, values[base + tracker.column], this.step?.kind === 'rest')) this.takePress(tracker);
		}

		this.watch();
	}

	/** Goes on without an answer. */
	skip(): void {
		if (!this.isOver) this.finish('skipped');
	}

	/** Does the step before again, or begins the current one anew if it has counted something. */
	repeat(): void {
		if (this.count === 0 && this.records.length > 0) {
			this.records.pop();
			this.index--;
			this.phaseFirst = Math.min(this.phaseFirst, this.index);
		}

		this.begin(this.t);
	}

	/** A recording says which step was asked for from here on: goes there, if it is another. */
	mark(id: string): void {
		this.isPrompted = true;
		const to = this.steps.findIndex(step => step.id === id);
		if (to < 0 || to === this.index) return;
		if (to < this.index) {
			this.records.length = to;
			this.index = to;
			this.begin(this.t);
			return;
		}

		while (this.index < to) this.finish(this.count > 0 && this.index === to - 1 ? 'done' : 'skipped');
	}

	/** The source is over: settles what can be settled. Steps that were not reached leave no record. */
	end(): void {
		const {step} = this;
		if (step === undefined || Number.isNaN(this.t)) return;
		if (!this.isPrompted && (step.kind === 'reel' || step.kind === 'finger') && this.phase.length > 0) {
			this.leavePhase();
		} else if (this.isEnough()) this.finish('done');
	}

	private begin(t: number): void {
		this.t = t;
		this.startedAt = t;
		this.answeredAt = t;
		this.count = 0;
		this.hint = null;
		this.stickHomeAt = Number.POSITIVE_INFINITY;
		this.seen.clear();
		this.handPulls = [];
		const {step} = this;
		if (step === undefined) return;
		if (step.kind === 'hand') {
			this.visits = this.fingers.map(({column}) => {
				const visits = new EndVisits();
				const filter = new GlitchFilter((at, reading) => visits.push(at, reading, this.features.scale.fullScale));
				return {column, filter, visits};
			});
		}

		this.onEvent({kind: 'step', t, step});
	}

	private setThresholds(): void {
		const {scale} = this.features;
		const isResting = this.step?.kind === 'rest';
		const key = scale.fullScale + (isResting ? 0.5 : 0);
		if (key === this.thresholdsFor) return;
		this.thresholdsFor = key;
		for (const tracker of [...this.fingers, ...this.sticks]) {
			const noise = this.hasNoise || !isResting ? this.noiseOf(tracker.column) : 0;
			const share = this.sticks.includes(tracker) ? stickEnterShare : enterShare;
			tracker.enter = Math.max(share * scale.fullScale, enterNoise * noise);
			tracker.band = Math.max((isResting ? firstBandShare : bandShare) * scale.fullScale, bandNoise * noise);
		}
	}

	/** rms at rest: as the rest step found it, else as the session knows it by now. */
	private noiseOf(column: number): number {
		const kept = this.records.find(({id}) => id === 'rest')?.noise?.find(each => each.column === column);
		return kept?.rms ?? this.features.analog.restNoise(this.features.placeOf[column]) ?? 0;
	}

	private takePull(pull: Pull): void {
		const judged = judgePull(pull, this.fingers, this.recent, column => this.scaleOf(column));
		this.recent.push(pull);
		if (this.recent.length > 4 * this.fingers.length) this.recent.shift();
		const {step} = this;
		if (step === undefined || judged.kind === 'follower') return;
		if (judged.kind === 'together') this.takeHand(step, pull);
		else this.takeAlone(step, pull, judged.strength);
	}

	/** Whole travel of a column where the hand step has found it, else full scale. */
	private scaleOf(column: number): number {
		const range = this.records.find(({id}) => id === 'hand')?.ranges?.find(each => each.column === column);
		const known = range && range.low !== null && range.high !== null ? range.high - range.low : 0;
		// A channel that hardly moved with the hand must not seem to make whole movements now.
		return Math.max(known, known > 0 ? 2 * enterShare * this.features.scale.fullScale : this.features.scale.fullScale);
	}

	private takeHand(step: Step, pull: Pull): void {
		this.handPulls.push(pull);
		// One movement of the hand is a pull on every finger: those that overlap are one.
		const isNew = pull.peakAt > this.handUntil;
		this.handUntil = Math.max(this.handUntil, pull.to);
		if (!isNew) return;
		if (step.kind === 'hand') {
			if (pull.from >= this.startedAt) this.answer();
			return;
		}

		if (this.isPrompted) {
			if (step.kind === 'reel' || step.kind === 'finger')
				this.setHint('Several channels moved at once: only this one, please.');
			return;
		}

		const hands = this.handsSince(this.startedAt);
		const isBefore = step.kind === 'rest' || step.kind === 'reel';
		if (!isBefore || hands < handsToMoveOn) return;
		// The routine in the recording has gone on to the whole hand.
		const earlier = this.handPulls;
		while (this.step && this.step.kind !== 'hand') {
			if (this.step.kind === 'reel') this.leavePhase();
			else this.finish(this.isEnough() ? 'done' : 'unanswered');
		}

		if (this.step?.kind !== 'hand') return;
		this.count = hands;
		this.handPulls = earlier;
		this.startedAt = Math.min(...earlier.map(({from}) => from));
	}

	/** Separate movements of the whole hand among those noted. */
	private handsSince(t: number): number {
		let until = Number.NEGATIVE_INFINITY;
		let hands = 0;
		for (const {from, peakAt, to} of this.handPulls) {
			if (from < t) continue;
			if (peakAt > until) hands++;
			until = Math.max(until, to);
		}

		return hands;
	}

	private takeAlone(step: Step, pull: Pull, strength: number): void {
		if (step.kind === 'rest') {
			// Nobody reads the prompts, and the first reel has been pulled: the rest is over.
			if (this.isPrompted || Math.abs(pull.excursion) < 2 * enterShare * this.features.scale.fullScale) return;
			this.finish('unanswered');
			this.takeAlone(this.step!, pull, strength);
			return;
		}

		if (step.kind === 'hand' && !this.isPrompted && this.isEnough() && strength >= aloneShare) {
			// The recording has gone on to the fingers by themselves.
			this.finish('done');
			if (this.step?.kind === 'finger') this.takeAlone(this.step, pull, strength);
			return;
		}

		if ((step.kind !== 'reel' && step.kind !== 'finger') || pull.from < this.phaseStart()) return;
		if (step.kind === 'finger' && strength < aloneShare) return;
		this.phase.push(pull);
		if (this.isPrompted && pull.from < this.startedAt) return;
		const own = this.columnOf(step.channel);
		const isTaken = this.records.some(
			({id, column, outcome}) => id.startsWith(`${step.kind} `) && column === pull.column && outcome === 'done',
		);
		if (isTaken && pull.column !== own) {
			this.setHint(`That channel has answered already: ${step.channel} only, please.`);
			return;
		}

		const pulls = this.seen.get(pull.column) ?? [];
		pulls.push(pull);
		this.seen.set(pull.column, pulls);
		this.hint = null;
		this.count = Math.max(...[...this.seen.values()].map(each => each.length)) - 1;
		this.answer();
	}

	/** When the first step of the phase began: pulls from before belong to another. */
	private phaseStart(): number {
		const from = this.records[this.phaseFirst]?.from ?? this.startedAt;
		// Unprompted, the first pull may be what told that the phase has begun.
		return this.isPrompted ? from : from - 3;
	}

	private takePush(push: Pull): void {
		const {step} = this;
		if (step === undefined) return;
		const isOut = Math.abs(push.excursion) >= pushShare * this.features.scale.fullScale;
		if (!isOut) return;
		if (step.kind === 'finger' && !this.isPrompted) {
			// The recording has gone on to the stick.
			this.leavePhase();
			return;
		}

		if (step.kind !== 'stick-side' || push.from < this.stickHomeAt) return;
		const other = this.sticks.find(({column}) => column !== push.column);
		const sideways = Math.abs(other?.underWay?.excursion ?? this.lastPush(other?.column, push));
		if (sideways > Math.abs(push.excursion)) return;
		if (sideways > sidewaysShare * Math.abs(push.excursion)) {
			this.setHint('That was between two sides: push straight, please.');
			return;
		}

		this.seen.set(push.column, [push]);
		this.answer();
	}

	/** Pushes of the other axis that ended within this one. */
	private lastPush(column: number | undefined, push: Pull): number {
		const pulls = this.seen.get(column ?? -1) ?? [];
		return pulls
			.filter(({to}) => to >= push.from)
			.reduce((most, {excursion}) => Math.max(most, Math.abs(excursion)), 0);
	}

	private followTurns(values: Float64Array, base: number): void {
		if (this.turns === undefined || this.step?.kind !== 'stick-around') return;
		const [x, y] = this.sticks;
		if (Number.isNaN(x.rest) || Number.isNaN(y.rest)) return;
		const half = this.features.scale.fullScale / 2;
		this.turns.push(values[base + x.column] - x.rest, values[base + y.column] - y.rest, half);
		const whole = Math.floor(this.turns.turns + 2 - leastTurns);
		if (whole <= this.count) return;
		this.count = whole - 1;
		this.answer();
	}

	private takePress({column, presses}: PressTracker): void {
		const {step} = this;
		if (step === undefined || presses === 0) return;
		if (step.kind === 'finger' && !this.isPrompted) {
			this.leavePhase();
			this.takePress(this.buttons.find(button => button.column === column)!);
			return;
		}

		if (step.kind !== 'button') return;
		const isTaken = this.records.some(record => record.presses !== undefined && record.column === column);
		if (isTaken && column !== this.columnOf(step.channel)) return;
		const pulls = this.seen.get(column) ?? [];
		pulls.push(pressPull(column, this.t));
		this.seen.set(column, pulls);
		this.count = Math.max(...[...this.seen.values()].map(each => each.length)) - 1;
		this.answer();
	}

	/** One more movement that fits. */
	private answer(): void {
		this.count++;
		this.answeredAt = this.t;
		if (this.count >= this.need) this.finish('done');
	}

	private setHint(text: string): void {
		if (this.hint === text) return;
		this.hint = text;
		this.onEvent({kind: 'hint', t: this.t, text});
	}

	/** What ends a step without a movement: stillness, and patience. */
	private watch(): void {
		const {step, t} = this;
		if (step === undefined) return;
		if (step.kind === 'rest') {
			const all = [...this.fingers, ...this.sticks];
			const still = all.filter(tracker => tracker.stillFor(t) >= restSeconds);
			if (still.length === all.length || (t - this.startedAt >= restlessSeconds && still.length > 0))
				this.finish('done');
		}

		if (this.isPrompted && this.step === step && t - this.answeredAt >= patienceSeconds) {
			this.finish(this.isEnough() ? 'done' : 'unanswered');
		}
	}

	/** Whether what was seen of a step that ends early still answers it. */
	private isEnough(): boolean {
		const {step} = this;
		if (step === undefined) return false;
		if (step.kind === 'hand') return this.count >= 3;
		return step.kind !== 'rest' && step.kind !== 'stick-around' && this.count > 0 && this.count >= this.need - 1;
	}

	/** Tells the pulls of the phase apart by their order, and goes on to the step after it. */
	private leavePhase(): void {
		const kind = this.step?.kind as 'reel' | 'finger';
		const first = this.steps.findIndex(step => step.kind === kind);
		const asked = this.steps.filter(step => step.kind === kind) as Extract<Step, {channel: string}>[];
		const from = this.records[first]?.from ?? this.startedAt;
		const own = asked.map(({channel}) => this.answeredBy(kind, channel));
		const answers = alignPulls(this.phase, own);
		this.records.length = first;
		asked.forEach((step, i) => {
			const pulls = answers[i];
			this.keep({
				id: step.id,
				outcome: pulls.length > 0 ? 'done' : 'unanswered',
				from: pulls[0]?.from ?? from,
				to: pulls[pulls.length - 1]?.to ?? this.t,
				column: pulls[0]?.column ?? null,
				pulls: pulls.map(kept),
			});
		});
		this.index = first + asked.length;
		this.phase = [];
		this.phaseFirst = this.index;
		this.begin(this.t);
	}

	/** The column that a finger's movement is expected on: its own, or the one that its reel has answered on. */
	private answeredBy(kind: 'reel' | 'finger', channel: string): number {
		const reel = this.records.find(({id}) => id === `reel ${channel}`);
		return kind === 'finger' && reel?.column != null ? reel.column : this.columnOf(channel);
	}

	private finish(outcome: Outcome): void {
		const step = this.step!;
		const isPhase = step.kind === 'reel' || step.kind === 'finger';
		const isLastOfPhase = isPhase && this.steps[this.index + 1]?.kind !== step.kind;
		if (isLastOfPhase && !this.isPrompted && outcome === 'done') {
			this.leavePhase();
			return;
		}

		this.keep(this.recordOf(step, outcome));
		this.index++;
		if (this.steps[this.index]?.kind !== step.kind) {
			this.phase = [];
			this.phaseFirst = this.index;
		}

		if (step.kind === 'rest') {
			this.hasNoise = true;
			this.thresholdsFor = Number.NaN;
		}

		this.begin(this.t);
	}

	private keep(record: StepRecord): void {
		this.records.push(record);
		this.onEvent({kind: 'end', t: this.t, record});
	}

	private recordOf(step: Step, outcome: Outcome): StepRecord {
		const base = {id: step.id, outcome, from: this.startedAt, to: this.t, column: null};
		switch (step.kind) {
			case 'rest':
				return {...base, ...this.restFigures()};
			case 'hand':
				return {...base, ranges: this.handRanges(), pulls: this.handPulls.map(kept)};
			case 'stick-around':
				return {...base, reach: this.stickReach()};
			case 'button': {
				const [column, presses] = this.strongest(step.channel);
				return {...base, column: outcome === 'done' ? column : null, presses: presses.length};
			}

			case 'stick-side': {
				const [column, pushes] = this.strongest();
				return {...base, column, pulls: pushes.map(kept)};
			}

			default: {
				const [column, pulls] = this.strongest(step.channel);
				return {...base, column: outcome === 'done' ? column : null, pulls: pulls.map(kept)};
			}
		}
	}

	/** The column that answered most often; of two that did alike, the one that should have. */
	private strongest(name?: string): [column: number | null, pulls: readonly Pull[]] {
		const own = name === undefined ? -1 : this.columnOf(name);
		let best: [number | null, readonly Pull[]] = [null, []];
		for (const entry of this.seen) {
			if (entry[1].length > best[1].length || (entry[1].length === best[1].length && entry[0] === own)) best = entry;
		}

		return best;
	}

	private restFigures(): Pick<StepRecord, 'noise' | 'restless'> {
		const all = [...this.fingers, ...this.sticks];
		const {analog, placeOf} = this.features;
		return {
			noise: all.flatMap(({column}) => {
				const rms = analog.restNoise(placeOf[column]);
				return rms === undefined ? [] : [{column, rms}];
			}),
			restless: all.filter(tracker => tracker.stillFor(this.t) < restSeconds / 2).map(({column}) => column),
		};
	}

	private handRanges(): KeptRange[] {
		const {scale} = this.features;
		return this.visits.map(({column, filter, visits}) => {
			filter.end();
			const {low, high} = robustRange(visits, scale.railLow, scale.railHigh);
			const ways = this.handPulls.filter(pull => pull.column === column && pull.from >= this.startedAt - 0.5);
			const rising = ways.filter(({excursion}) => excursion > 0).length;
			const direction = ways.length === 0 || 2 * rising === ways.length ? 0 : 2 * rising > ways.length ? 1 : -1;
			return {
				column,
				low: low?.level ?? null,
				high: high?.level ?? null,
				visits: Math.min(low?.visits ?? 0, high?.visits ?? 0),
				direction,
			};
		});
	}

	private stickReach(): NonNullable<StepRecord['reach']> {
		const [x, y] = this.sticks;
		const {reach} = this.turns!;
		return [
			{column: x.column, low: reach[0], high: reach[1]},
			{column: y.column, low: reach[2], high: reach[3]},
		];
	}
}

function kept({column, before, after, excursion, wobble, dropouts}: Pull): KeptPull {
	return {column, before, after, excursion, wobble, dropouts};
}

/** A press as a pull, so that both are counted alike. */
function pressPull(column: number, t: number): Pull {
	return {column, from: t, peakAt: t, to: t, before: 0, after: 0, excursion: 1, wobble: 0, dropouts: 0};
}
