import type {Features} from '../features/features.ts';
import {HandWatch} from './hand-watch.ts';
import {Phase} from './phase.ts';
import type {Pull} from './pull-tracker.ts';
import {RestWatch} from './rest-watch.ts';
import {Sensing, type Sighting} from './sensing.ts';
import {keptPull, StepAnswers} from './step-answers.ts';
import type {Outcome, StepRecord} from './step-record.ts';
import {type Step, stepsFor, times} from './steps.ts';
import {TurnTracker} from './turn-tracker.ts';

/** After how long a rest does without the channels that never come to it. */
const restlessSeconds = 8;
/** Where nobody reads the prompts the hand will not wait for them. */
const unpromptedRestlessSeconds = 3.3;

/** A finger bent alone goes at least this far of its own range: a neighbour that follows does not. */
const aloneShare = 0.5;

/** A first pull that ends the rest of a recording goes this far at least, share of full scale. */
const firstPullShare = 0.12;

/** A push to a side goes this far, share of full scale, and leaves the other axis under this share of it. */
const pushShare = 0.25;
const sidewaysShare = 0.7;

/** Nothing answers for this long: the step is given up. Time to read, grasp and pull. */
const patienceSeconds = 25;

/** Movements of the whole hand after which a routine that nobody is prompted through has left the reels. */
const handsToMoveOn = 2;

/** Fewest movements of the hand from which ranges can be taken. */
const leastHands = 3;

/** A turn, less what is lost on the way out to the rim. */
const turnLoss = 0.1;

type NamedStep = Extract<Step, {channel: string}>;

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
	private readonly sensing: Sensing;
	private index = 0;
	private t = Number.NaN;
	private startedAt = Number.NaN;
	private answeredAt = Number.NaN;
	/** When the stick was home for the first time in the current step. */
	private homeAt = Number.POSITIVE_INFINITY;
	private answers = new StepAnswers();
	private rest: RestWatch | undefined;
	private hand: HandWatch;
	private hands = 0;
	private turns = new TurnTracker();
	private phase: Phase | undefined;

	constructor(features: Features, options: BringUpOptions) {
		this.features = features;
		this.steps = stepsFor(features.layout.channels);
		this.isPrompted = options.isPrompted;
		this.onEvent = options.onEvent ?? (() => undefined);
		this.sensing = new Sensing(features, {
			noise: column => this.noiseOf(column),
			span: column => this.spanOf(column),
		});
		this.hand = this.watchHand();
		for (const record of options.records ?? []) {
			if (this.steps[this.index]?.id !== record.id) break;
			this.records.push(record);
			this.index++;
		}
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

	/** Takes one frame: `values[base + column]`. */
	frame(t: number, values: Float64Array, base: number): void {
		if (this.isOver) return;
		this.t = t;
		if (Number.isNaN(this.startedAt)) this.begin();
		const isRestStep = this.step?.kind === 'rest';
		this.sensing.frame(t, values, base, isRestStep, sighting => this.see(sighting));
		this.hand.frame(t, values, base);
		if (this.homeAt > t && this.sensing.isStickHome) this.homeAt = t;
		this.watchStick(values, base);
		this.watchTime();
	}

	/** Goes on without an answer. */
	skip(): void {
		if (!this.isOver) this.finish('skipped');
	}

	/** Begins the step anew if it has counted something, else goes back to the one before. */
	repeat(): void {
		if (this.count === 0 && this.records.length > 0) {
			this.records.pop();
			this.index--;
		}

		this.begin();
	}

	/** A recording tells which step was asked for from here on: goes there, if it is another. */
	mark(id: string): void {
		this.isPrompted = true;
		const to = this.steps.findIndex(step => step.id === id);
		if (to < 0 || to === this.index) return;
		if (to > this.index) {
			while (this.index < to) this.finish(this.isEnough() ? 'done' : 'skipped');
			return;
		}

		this.records.length = to;
		this.index = to;
		this.begin();
	}

	/** The source is over: settles what can be settled. Steps that were not reached leave no record. */
	end(): void {
		if (this.step === undefined || Number.isNaN(this.t)) return;
		if (!this.isPrompted && this.phase !== undefined && !this.phase.isEmpty) this.leavePhase();
		else if (this.isEnough()) this.finish('done');
	}

	// --- what is seen

	private see(sighting: Sighting): void {
		switch (sighting.kind) {
			case 'together':
				this.seeTogether(sighting.pull);
				break;
			case 'alone':
				this.seeAlone(sighting.pull, sighting.strength);
				break;
			case 'push':
				this.seePush(sighting.pull, sighting.sideways);
				break;
			case 'press':
				this.seePress(sighting.column);
				break;
		}
	}

	private seeTogether(pull: Pull): void {
		if (pull.from < this.startedAt) return;
		const {step} = this;
		const isNew = this.hand.add(pull);
		if (!isNew || step === undefined) return;
		this.hands++;
		if (step.kind === 'hand') {
			this.answer();
			return;
		}

		const isFingers = step.kind === 'reel' || step.kind === 'finger';
		if (this.isPrompted) {
			if (isFingers) this.setHint('Several channels moved at once: only this one, please.');
			return;
		}

		// The recording has gone on to the whole hand.
		if ((step.kind === 'rest' || step.kind === 'reel') && this.hands >= handsToMoveOn) this.goToHand();
	}

	private goToHand(): void {
		const {hand, hands} = this;
		if (this.step?.kind === 'rest') this.finish('unanswered');
		if (this.step?.kind === 'reel') this.leavePhase();
		if (this.step?.kind !== 'hand') return;
		this.hand = hand;
		this.hands = hands;
		this.count = hands;
		this.startedAt = Math.min(...hand.pulls.map(({from}) => from));
	}

	private seeAlone(pull: Pull, strength: number): void {
		if (!this.isPrompted) this.followRecording(pull, strength);
		const {step, phase} = this;
		if (phase === undefined || (step?.kind !== 'reel' && step?.kind !== 'finger')) return;
		if (step.kind === 'finger' && strength < aloneShare) return;
		if (this.isPrompted && pull.from < this.startedAt) return;
		phase.add(pull);
		if (!phase.isFinger(pull.column) || !this.mayAnswer(pull.column)) return;
		const isTaken = this.records.some(
			({id, column, outcome}) => id.startsWith(`${step.kind} `) && column === pull.column && outcome === 'done',
		);
		if (isTaken && pull.column !== this.columnOf(step.channel)) {
			this.setHint('That channel has answered already: only this one, please.');
			return;
		}

		this.hint = null;
		if (this.answers.addPull(pull) > this.count) this.answer();
	}

	/** A recording that nobody was prompted through goes on by itself: a single finger ends the rest, and the hand step. */
	private followRecording(pull: Pull, strength: number): void {
		const {step} = this;
		const isPull = Math.abs(pull.excursion) >= firstPullShare * this.features.scale.fullScale;
		if (step?.kind === 'rest' && isPull && this.mayAnswer(pull.column)) this.finish('unanswered');
		else if (step?.kind === 'hand' && this.isEnough() && strength >= aloneShare) this.finish('done');
	}

	/** A channel that would not rest answers nothing. */
	private mayAnswer(column: number): boolean {
		return !this.records.some(({restless}) => restless?.includes(column));
	}

	private seePush(push: Pull, sideways: number): void {
		const way = Math.abs(push.excursion);
		if (this.step?.kind !== 'stick-side' || push.from < this.homeAt) return;
		if (way < pushShare * this.features.scale.fullScale || sideways > way) return;
		if (sideways > sidewaysShare * way) {
			this.setHint('That was between two sides: push straight, please.');
			return;
		}

		this.answers.addPull(push);
		this.answer();
	}

	private seePress(column: number): void {
		if (this.step?.kind === 'finger' && !this.isPrompted) this.leavePhase();
		const {step} = this;
		if (step?.kind !== 'button') return;
		const isTaken = this.records.some(record => record.presses !== undefined && record.column === column);
		if (isTaken && column !== this.columnOf(step.channel)) return;
		if (this.answers.addPress(column) > this.count) this.answer();
	}

	private watchStick(values: Float64Array, base: number): void {
		const {sticks, stickOut} = this.sensing;
		if (sticks.length < 2) return;
		const {fullScale} = this.features.scale;
		if (this.step?.kind === 'finger' && !this.isPrompted && stickOut >= pushShare * fullScale) this.leavePhase();
		if (this.step?.kind !== 'stick-around') return;
		const [x, y] = sticks;
		if (Number.isNaN(x.rest) || Number.isNaN(y.rest)) return;
		this.turns.push(values[base + x.column] - x.rest, values[base + y.column] - y.rest, fullScale / 2);
		if (Math.floor(this.turns.turns + turnLoss) > this.count) this.answer();
	}

	/** What ends a step without a movement: stillness, and patience. */
	private watchTime(): void {
		const {step, t, rest} = this;
		if (step?.kind === 'rest' && rest?.isDone(t, this.isPrompted ? restlessSeconds : unpromptedRestlessSeconds)) {
			this.finish('done');
		} else if (this.isPrompted && step !== undefined && t - this.answeredAt >= patienceSeconds) {
			this.finish(this.isEnough() ? 'done' : 'unanswered');
		}
	}

	// --- steps

	private begin(): void {
		const {step} = this;
		this.startedAt = this.t;
		this.answeredAt = this.t;
		this.homeAt = Number.POSITIVE_INFINITY;
		this.count = 0;
		this.hint = null;
		this.answers = new StepAnswers();
		if (step === undefined) return;
		const isInPhase =
			(step.kind === 'reel' || step.kind === 'finger') && this.steps[this.index - 1]?.kind === step.kind;
		if (!isInPhase || this.phase === undefined) {
			this.hand = this.watchHand();
			this.hands = 0;
			this.phase = step.kind === 'reel' || step.kind === 'finger' ? new Phase(times[step.kind]) : undefined;
		}

		if (step.kind === 'rest') this.rest = new RestWatch([...this.sensing.fingers, ...this.sensing.sticks], this.t);
		if (step.kind === 'stick-around') this.turns = new TurnTracker();
		this.onEvent({kind: 'step', t: this.t, step});
	}

	private watchHand(): HandWatch {
		return new HandWatch(
			this.features,
			this.sensing.fingers.map(({column}) => column),
		);
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

	/** Whether what was seen of a step that ends early still answers it. */
	private isEnough(): boolean {
		const {step} = this;
		if (step === undefined || step.kind === 'rest' || step.kind === 'stick-around') return false;
		return step.kind === 'hand' ? this.count >= leastHands : this.count > 0 && this.count >= this.need - 1;
	}

	private finish(outcome: Outcome): void {
		const step = this.step!;
		const isLastOfPhase = this.phase !== undefined && this.steps[this.index + 1]?.kind !== step.kind;
		if (isLastOfPhase && !this.isPrompted && outcome === 'done') {
			this.leavePhase();
			return;
		}

		this.index++;
		this.keep(this.recordOf(step, outcome));
		this.begin();
	}

	/** Tells the pulls of the phase apart by their order, and goes on to the step after it. */
	private leavePhase(): void {
		const {phase, step} = this;
		if (phase === undefined || step === undefined) return;
		const asked = this.steps.filter((each): each is NamedStep => each.kind === step.kind);
		const first = this.steps.indexOf(asked[0]);
		const from = this.records[first]?.from ?? this.startedAt;
		const own = asked.map(({channel}) => this.expectedOn(step.kind, channel));
		const answers = phase.align(own, column => this.mayAnswer(column));
		this.records.length = first;
		this.index = first + asked.length;
		asked.forEach(({id}, i) => {
			const pulls = answers[i];
			this.keep({
				id,
				outcome: pulls.length > 0 ? 'done' : 'unanswered',
				from: pulls[0]?.from ?? from,
				to: pulls[pulls.length - 1]?.to ?? this.t,
				column: pulls[0]?.column ?? null,
				pulls: pulls.map(keptPull),
			});
		});
		this.phase = undefined;
		this.begin();
	}

	/** The column that a finger's movement is expected on: its own, or the one that its reel has answered on. */
	private expectedOn(kind: Step['kind'], channel: string): number {
		const reel = this.records.find(({id}) => id === `reel ${channel}`);
		return kind === 'finger' && reel?.column != null ? reel.column : this.columnOf(channel);
	}

	private keep(record: StepRecord): void {
		this.records.push(record);
		this.onEvent({kind: 'end', t: this.t, record});
	}

	private recordOf(step: Step, outcome: Outcome): StepRecord {
		const base = {id: step.id, outcome, from: this.startedAt, to: this.t, column: null};
		switch (step.kind) {
			case 'rest':
				return {...base, ...this.rest?.figures(this.features)};
			case 'hand':
				return {...base, ranges: this.hand.ranges(), pulls: this.hand.pulls.map(keptPull)};
			case 'stick-around':
				return {...base, reach: this.reach()};
			case 'button': {
				const {column, presses} = this.answers.mostPressed(this.columnOf(step.channel));
				return {...base, column: outcome === 'done' ? column : null, presses};
			}

			default: {
				const own = step.kind === 'stick-side' ? -1 : this.columnOf(step.channel);
				const {column, pulls} = this.answers.mostPulled(own);
				return {...base, column: outcome === 'done' ? column : null, pulls};
			}
		}
	}

	private reach(): NonNullable<StepRecord['reach']> {
		const {sticks} = this.sensing;
		const {reach} = this.turns;
		return sticks.map(({column}, axis) => ({column, low: reach[2 * axis], high: reach[2 * axis + 1]}));
	}

	// --- what is known

	/** The column that a finger, axis or button is on by its name; −1 where there is none. */
	private columnOf(name: string): number {
		return this.features.layout.channels.findIndex(channel => channel.name === name);
	}

	/** rms at rest: as the rest step found it, else as the session knows it by now. */
	private noiseOf(column: number): number | undefined {
		const kept = this.records.find(({id}) => id === 'rest')?.noise?.find(each => each.column === column);
		return kept?.rms ?? this.features.analog.restNoise(this.features.placeOf[column]);
	}

	private spanOf(column: number): number | undefined {
		const range = this.records.find(({id}) => id === 'hand')?.ranges?.find(each => each.column === column);
		return range && range.low !== null && range.high !== null ? range.high - range.low : undefined;
	}
}
