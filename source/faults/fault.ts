import type {Features} from '../features/features.ts';
import type {Evidence} from './evidence.ts';
import type {Status} from './fault-code.ts';
import type {Gate, Limit} from './gates/gate.ts';

/** One thing to measure, and what it reads when that part is sound. */
type Measurement = {readonly measure: string; readonly expect: string};

/** What a check saw when all its gates are open. */
export type Sign = {
	/** Stream seconds at which the condition began; NaN where that is not known: when it was seen, then. */
	readonly from: number;
	/** A measurement in a sentence. */
	readonly summary: string;
	readonly evidence: Evidence;
	/** Where the evidence decides it; the catalogue's status where left out. */
	readonly status?: Status;
	/** When enough had been seen, if that was before this evaluation (timers); defaults to the evaluation's time. */
	readonly flaggedAt?: number;
	/** When the evidence was last seen: the finding is taken to have ended then. This evaluation's time where left out. */
	readonly seenAt?: number;
	/** Comes first in the advice where the evidence says more than the catalogue can (a baud rate that would fit). */
	readonly advice?: readonly string[];
	/** Set where the condition is an event, over when it is reported. */
	readonly to?: number;
};

/** What the check is asked about: each channel of a kind, or the link and all channels together. See also `together`. */
export type Scope = 'finger' | 'stick' | 'analog' | 'button' | 'link';

/** What a builder sees, in the order in which it is listed. */
export const seen = [
	'does not move, or too little',
	'jumps',
	'noisy, or moves by itself',
	'wrong way, wrong place or wrong scale',
	'the link',
] as const;

type Sees = (typeof seen)[number];

/** One way in which a fault shows: it speaks once every gate is open. */
export type Way = {
	/** `jumps`, `stretches`: told where a check has several. */
	readonly name: string;
	/** Every number the gates decide by. */
	readonly limits: Readonly<Record<string, Limit>>;
	/** Asked in order; the first that refuses is told. */
	readonly gates: readonly Gate[];
	/** Asked only when all gates are open. */
	readonly sign: (features: Features, place: number) => Sign;
};

/**
 * One entry of the catalogue. A check is data: words, a table of limits, named gates. Checks know features, never each
 * other: which of two findings wins is in `causes.ts`.
 */
export type Fault<Code extends string = string> = {
	readonly code: Code;
	readonly status: Status;
	/** The finding that comes before it in the documentation; null for the first. source/write-lists.mjs makes the list of it. */
	readonly listedAfter: string | null;
	/** What a builder would say is wrong, before anything is known: `explain` lists findings under it. */
	readonly sees: Sees;
	/** A few words for a list: `wiper wire open`. */
	readonly title: string;
	/** What it is, in a sentence. */
	readonly definition: string;
	/** The physics or mechanics that makes the readings look like this. */
	readonly physics: string;
	/** In order of likelihood. */
	readonly causes: readonly string[];
	/** In the order in which to do them. */
	readonly measurements: readonly Measurement[];
	/** How to mend it. */
	readonly remedy: readonly string[];
	/** Where a step can hurt. */
	readonly caution?: string;
	readonly scope: Scope;
	/** Also asked about all channels of its scope together: place −1, channel null. */
	readonly together?: boolean;
	/** Of scope `link`: true where it is told by what the channels read, so that it falls with their layout or scale. */
	readonly readsCounts?: boolean;
	/** True where the fault comes and goes by nature, so that a stretch that is over still weighs in the verdict. */
	readonly intermittent?: boolean;
	/** Whether what shows is the ordinary state of a glove that is being wired: told by the channel's state, no finding. */
	readonly isCalm?: (features: Features, place: number) => boolean;
	/** Whether the channel's state tells it already: what was calm becomes a finding without being shown once more. */
	readonly isKnown?: (features: Features, place: number) => boolean;
	/**
	 * Quarter seconds between two looks; every one where left out. A condition that takes seconds to show need not be
	 * looked for four times a second.
	 */
	readonly everyTicks?: number;
	/** Any one of them raises the finding. Empty for the codes that only the bring-up routine can find. */
	readonly ways: readonly Way[];
};
