import type {Features} from '../features/features.ts';
import type {Status} from './fault-code.ts';

/** One thing to measure, and what it reads when that part is sound. */
export type Check = {readonly measure: string; readonly expect: string};

/** What a detector saw when the condition holds. */
export type Sign = {
	/** Stream seconds at which the condition began. */
	readonly from: number;
	/** 0…1. */
	readonly confidence: number;
	/** A measurement in a sentence. */
	readonly summary: string;
	readonly evidence: Readonly<Record<string, number | string>>;
	/** When enough had been seen, if that was before this evaluation (timers); defaults to the evaluation's time. */
	readonly flaggedAt?: number;
	/** Replaces the first advice where the evidence says more than the catalogue can (a baud rate that would fit). */
	readonly advice?: readonly string[];
	/** Set where the condition is an event, over when it is reported. */
	readonly to?: number;
};

/**
 * `Sign`: the condition holds. `'gone'`: the evidence speaks against it now. `'never'`: what was taken for it has turned
 * out to be something else, the finding is withdrawn. `undefined`: not enough to say; an open finding stays open, a
 * closed one closed.
 */
export type Verdict = Sign | 'gone' | 'never' | undefined;

/** What the detector is asked about: each channel of a kind, or the link and all channels together. */
export type Scope = 'finger' | 'stick' | 'analog' | 'button' | 'link';

/**
 * One entry of the catalogue. A rule is mostly data; every number in `detect` carries its derivation beside it.
 * Rules know features, never each other: which of two findings wins is in `precedence.ts`.
 */
export type Fault = {
	readonly code: string;
	readonly status: Status;
	/** A few words for a list: `wiper wire open`. */
	readonly title: string;
	/** What it is, in a sentence. */
	readonly definition: string;
	/** The physics or mechanics that makes the readings look like this. */
	readonly physics: string;
	/** In order of likelihood. */
	readonly causes: readonly string[];
	/** In the order in which to do them. */
	readonly checks: readonly Check[];
	/** How to mend it. */
	readonly remedy: readonly string[];
	/** Where a step can hurt. */
	readonly caution?: string;
	/** The reasoning behind the thresholds, with its source, "common practice" or "from memory". */
	readonly thresholds: string;
	readonly scope: Scope;
	/**
	 * Quarter seconds between two looks; every one where left out. A condition that takes seconds to show need not be
	 * looked for four times a second.
	 */
	readonly everyTicks?: number;
	/** Missing for the codes that only the bring-up routine can find. */
	readonly detect?: (features: Features, channel: number) => Verdict;
	/** Whether the evidence speaks against an open finding on which `detect` has nothing to say: costly signs of an end. */
	readonly isOver?: (features: Features, channel: number) => boolean;
};
