import type {Features} from '../features/features.ts';
import {trimmedText} from '../text/number-text.ts';
import {aloneShare, answerStep, pushShare} from './answer-step.ts';
import {HandWatch} from './hand-watch.ts';
import {KnownSoFar} from './known-so-far.ts';
import {Phase} from './phase.ts';
import {type FingerStep, isFingerStep, phaseRecords} from './phase-records.ts';
import {readingAt} from './reading-at.ts';
import {Sensing, type Sighting} from './sensing.ts';
import type {Outcome, StepRecord} from './step-record.ts';
import {StepWork} from './step-work.ts';
import {type Step, stepsFor, times} from './steps.ts';

/** After how long a rest does without the channels that never come to it. */
const restlessSeconds = 8;
/** Where nobody reads the prompts the hand will not wait for them. */
const unpromptedRestlessSeconds = 3.3;

/** A first pull that ends the rest of a recording goes this far at least, share of full scale. */
const firstPullShare = 0.12;

/** Somebody who waits for this long in vain is told what can be done. */
const hintSeconds = 12;

/** No frame for this long, where even a slow glove sends several a second, is worth a word. */
const silentSeconds = 2;
const silentText = 'Nothing arrives from the glove: cable, power? It goes on here when frames come again.';

/** Movements of the whole hand after which a routine that nobody is prompted through has left the reels. */
const handsToMoveOn = 2;

/** What happened, for the screen and the transcript. */
export type BringUpEvent =
	| {readonly kind: 'step'; readonly t: number; readonly step: Step}
	| {readonly kind: 'end'; readonly t: number; readonly record: StepRecord}
	| {readonly kind: 'hint'; readonly t: number; readonly text: string};

type BringUpOptions = {
	/** Whether somebody reads the prompts. Without, a recording's pulls are told apart by their order alone. */
	readonly isPrompted: boolean;
	/** Each cord is also pulled along a ruler with marks so many millimetres apart. */
	readonly rulerMm?: number | undefined;
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
	isPrompted: boolean;
	/** A recording's marks tell what was asked for: nobody is there to be told anything. */
	private isRecorded = false;
	private readonly rulerMm: number;
	private readonly onEvent: (event: BringUpEvent) => void;
	private readonly known: KnownSoFar;
	private readonly sensing: Sensing;
	private index = 0;
	private t = Number.NaN;
	/** undefined before the first frame, and when all is done. */
	private work: StepWork | undefined;
	private hand: HandWatch;
	private phase: Phase | undefined;

	constructor(features: Features, options: BringUpOptions) {
		this.features = features;
		this.steps = stepsFor(features.layout.channels, options.rulerMm !== undefined);
		this.isPrompted = options.isPrompted;
		this.rulerMm = options.rulerMm ?? Number.NaN;
		this.onEvent = options.onEvent ?? (() => undefined);
		this.known = new KnownSoFar(features, this.records);
		this.sensing = new Sensing(features, this.known);
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

	/** Movements counted in the current step. */
	get count(): number {
		return this.work?.count ?? 0;
	}

	/** Marks of a ruler that were read in the step under way. */
	get marks(): number {
		return this.work?.marks ?? 0;
	}

	/** How many movements the step asks for. */
	get need(): number {
		return this.step === undefined ? 0 : times[this.step.kind];
	}

	/** What the current step has been answered with that does not fit; null without. */
	get hint(): string | null {
		return this.work?.hint ?? null;
	}

	get isOver(): boolean {
		return this.index >= this.steps.length;
	}

	/** Takes one frame: `values[base + column]`. */
	frame(t: number, values: Float64Array): void {
		if (this.isOver) return;
		const isAfterGap = t - this.t >= silentSeconds;
		this.t = t;
		// What nobody saw was no rest, and no half of a pull.
		if (isAfterGap) this.sensing.forgetPulls();
		if (this.work === undefined || (isAfterGap && this.step?.kind === 'rest')) this.begin();
		if (this.work?.hint === silentText) this.work.hint = null;
		const isRestStep = this.step?.kind === 'rest';
		this.sensing.frame(t, values, isRestStep, sighting => this.see(sighting));
		this.hand.frame(t, values);
		if (this.sensing.isStickHome) this.work?.noteStickHome(t);
		this.watchStick(values);
		this.watchRuler(values);
		this.watchTime();
	}

	/** Time passes, though no frame may come: says so. */
	advance(t: number): void {
		if (this.isPrompted && t - this.t >= silentSeconds) this.setHint(silentText);
	}

	/** The channel that moved in the place of the one asked for, and whether it may be taken for that one. */
	get wrong(): {readonly name: string; readonly mayBeCrossed: boolean} | null {
		const wrong = this.work?.wrong;
		return wrong === undefined ? null : {name: this.known.nameOf(wrong.column), mayBeCrossed: wrong.mayBeCrossed};
	}

	/** What moved is what was asked for: its wires are crossed with another's. */
	take(): void {
		this.work?.takeCrossed(this.t);
		if (this.work?.isWhole) this.finish('done');
	}

	/** Goes on without an answer. */
	skip(): void {
		if (this.work) this.finish('skipped');
	}

	/** Begins the step anew if it has counted something, else goes back to the one before. */
	repeat(): void {
		if (Number.isNaN(this.t)) return;
		if (this.count === 0 && this.records.length > 0) {
			this.records.pop();
			this.index--;
		}

		this.begin();
	}

	/** A recording tells which step was asked for from time `t` on: goes there, if it is another. */
	mark(id: string, t: number): void {
		this.isPrompted = true;
		this.isRecorded = true;
		const to = this.steps.findIndex(step => step.id === id);
		if (to < 0 || to === this.index) return;
		this.t = t;
		if (to > this.index) {
			while (this.index < to) this.finish(this.work?.isEnough ? 'done' : 'skipped');
			return;
		}

		this.records.length = to;
		this.index = to;
		this.begin();
	}

	/** The source is over: settles what can be settled. Steps that were not reached leave no record. */
	end(): void {
		if (this.work === undefined) return;
		if (!this.isPrompted && this.phase !== undefined && !this.phase.isEmpty) this.leavePhase();
		else if (this.work.isEnough) this.finish('done');
	}

	// --- what is seen

	private see(sighting: Sighting): void {
		if (!this.isPrompted) this.followRecording(sighting);
		const {work} = this;
		if (work === undefined) return;
		const hint = answerStep(work, sighting, this.t, {
			known: this.known,
			phase: this.phase,
			hand: this.hand,
			isPrompted: this.isPrompted,
			isAttended: this.isPrompted && !this.isRecorded,
			fullScale: this.features.scale.fullScale,
		});
		if (hint !== undefined) this.setHint(hint);
		if (work.isWhole) this.finish('done');
		else if (!this.isPrompted && sighting.kind === 'together' && this.hand.movements >= handsToMoveOn) this.goToHand();
	}

	/** A recording that nobody was prompted through goes on by itself: what belongs to a later step ends this one. */
	private followRecording(sighting: Sighting): void {
		const kind = this.step?.kind;
		if (kind === 'finger' && sighting.kind === 'press') this.leavePhase();
		if (sighting.kind !== 'alone') return;
		const {pull, strength} = sighting;
		const isPull = Math.abs(pull.excursion) >= firstPullShare * this.features.scale.fullScale;
		if (kind === 'rest' && isPull && this.known.mayAnswer(pull.column)) this.finish('unanswered');
		else if (kind === 'hand' && this.work?.isEnough && strength >= aloneShare) this.finish('done');
	}

	/** A recording that nobody was prompted through has left rest or reels for the whole hand. */
	private goToHand(): void {
		const {hand} = this;
		if (this.step?.kind === 'rest') this.finish('unanswered');
		if (this.step?.kind === 'reel') this.leavePhase();
		while (this.step?.kind === 'ruler') this.finish('unanswered');
		if (this.step?.kind !== 'hand' || this.hand === hand) return;
		this.hand = hand;
		this.work = new StepWork(this.step, Math.min(...hand.pulls.map(({from}) => from)), this.sensing);
		this.work.countBefore(hand.movements);
	}

	private watchStick(values: Float64Array): void {
		const {sticks, stickOut} = this.sensing;
		if (sticks.length < 2) return;
		const {fullScale} = this.features.scale;
		if (this.step?.kind === 'finger' && !this.isPrompted && stickOut >= pushShare * fullScale) this.leavePhase();
		if (this.work?.step.kind !== 'stick-around') return;
		this.work.takeStick(this.t, values, fullScale);
		if (this.work.isWhole) this.finish('done');
	}

	private watchRuler(values: Float64Array): void {
		const {work, step, features, known} = this;
		if (work === undefined || step?.kind !== 'ruler') return;
		const column = known.columnOf(step.channel);
		const place = features.placeOf[column];
		if (place === undefined || place < 0) return;
		const {fullScale} = features.scale;
		const mark = work.takeRuler(this.t, readingAt(values, column), features.analog.restNoise(place) ?? 1, fullScale);
		if (work.isWhole) this.finish('done');
		else if (mark !== undefined)
			this.setHint(`${work.marks}. mark read, ${trimmedText(mark * this.rulerMm, 1)} mm: on to the next one.`);
	}

	/** What ends a step without a movement: stillness, and patience. */
	private watchTime(): void {
		const {work, t} = this;
		if (work === undefined) return;
		if (work.isRested(t, this.isPrompted ? restlessSeconds : unpromptedRestlessSeconds)) {
			this.finish('done');
			return;
		}

		// It waits for ever: a key skips, and a recording's marks go on.
		if (!this.isPrompted || this.isRecorded) return;
		if (work.unansweredFor(t) >= hintSeconds && work.hint === null) this.setHint(waitingText(work));
	}

	// --- steps

	private begin(): void {
		const {step} = this;
		this.work = undefined;
		if (step === undefined) return;
		const isInPhase = isFingerStep(step) && this.steps[this.index - 1]?.kind === step.kind;
		if (!isInPhase || this.phase === undefined) {
			this.hand = this.watchHand();
			this.phase = isFingerStep(step) ? new Phase(times[step.kind]) : undefined;
		}

		this.work = new StepWork(step, this.t, this.sensing);
		this.onEvent({kind: 'step', t: this.t, step});
	}

	private watchHand(): HandWatch {
		return new HandWatch(
			this.features,
			this.sensing.fingers.map(({column}) => column),
		);
	}

	private setHint(text: string): void {
		if (this.work === undefined || this.work.hint === text) return;
		this.work.hint = text;
		this.onEvent({kind: 'hint', t: this.t, text});
	}

	private finish(outcome: Outcome): void {
		if (this.work === undefined) this.begin();
		const {step, features, hand, known} = this;
		const isLastOfPhase = this.phase !== undefined && this.steps[this.index + 1]?.kind !== step!.kind;
		if (isLastOfPhase && !this.isPrompted && outcome === 'done') {
			this.leavePhase();
			return;
		}

		this.index++;
		this.keep(this.work!.record(outcome, this.t, {features, hand, known}));
		this.begin();
	}

	/** Tells the pulls of the phase apart by their order, and goes on to the step after it. */
	private leavePhase(): void {
		const {phase, step, work} = this;
		if (phase === undefined || step === undefined || work === undefined) return;
		const asked = this.steps.filter((each): each is FingerStep => each.kind === step.kind);
		const first = this.steps.findIndex(each => each.kind === step.kind);
		const from = this.records[first]?.from ?? work.startedAt;
		const kept = phaseRecords(asked, phase, this.known, from);
		this.records.length = first;
		this.index = first + asked.length;
		for (const record of kept) this.keep(record);
		this.phase = undefined;
		this.begin();
	}

	private keep(record: StepRecord): void {
		this.records.push(record);
		this.onEvent({kind: 'end', t: this.t, record});
	}
}

function waitingText({step, count, need}: StepWork): string {
	if (step.kind === 'rest') return 'It does not lie still yet: put it down and let go of it.';
	return count === 0
		? 'Nothing has answered yet: it waits. x skips this.'
		: `${count} of ${need} seen: it waits for the rest. x skips this.`;
}
