import type {FaultCode} from '../faults/registry.ts';
import type {Random} from './random.ts';
import type {Rig} from './rig.ts';

/** A fault to inject: plain JSON. */
export type FaultSpec = {
	/** Code of the finding it should give. */
	readonly code: string;
	/** Channel name, or null / left out for the link and for faults of all channels together. */
	readonly channel?: string | null;
	/**
	 * 0: just inside the definition's "must"; 1: gross; above 1 grosser still. −1: just inside its "must not";
	 * between −1 and 0 either answer is right. Default 0.5.
	 */
	readonly severity?: number;
	/** Which physical cause; drawn by the seed if left out. */
	readonly variant?: string;
	/** Seconds; default from the start to the end. */
	readonly from?: number;
	readonly to?: number | null;
	/** Several stretches instead of one. */
	readonly windows?: readonly (readonly [from: number, to: number | null])[];
};

/** Stretches of time, asked for in rising order. */
export class Window {
	readonly spans: readonly (readonly [from: number, to: number])[];
	#at = 0;

	constructor(fault: FaultSpec) {
		const spans = fault.windows ?? [[fault.from ?? 0, fault.to ?? null] as const];
		this.spans = spans.map(([from, to]) => [from, to ?? Number.POSITIVE_INFINITY]);
	}

	/** Whether `t` seconds lies in one of the stretches. Times may fall back a little, not by more than a stretch. */
	has(t: number): boolean {
		const spans = this.spans;
		while (this.#at + 1 < spans.length && t >= spans[this.#at][1]) this.#at++;
		return t >= spans[this.#at][0] && t < spans[this.#at][1];
	}
}

/** A fault about to be installed. */
export type FaultSetting = {
	readonly code: string;
	readonly channel: string | null;
	/** Place in `rig.channels` or of the button; −1 for the link. */
	readonly index: number;
	readonly severity: number;
	readonly variant: string;
	readonly window: Window;
	readonly random: Random;
	/** To be called, with the time in seconds, each time that a cause acts which acts now and then. */
	readonly acts: (t: number) => void;
};

/** A finding that a right diagnosis may name besides. */
type Allowed = {readonly code: string; readonly channel: string | null};

/** What the installed fault comes to. */
export type FaultOutcome = {
	/** False where this glove, rate or format keeps the fault from meeting the definition. Default true. */
	readonly must?: boolean;
	/** Other channels that may be named instead (of two touching wipers, either). */
	readonly alternatives?: readonly string[];
	readonly may?: readonly Allowed[];
	/** When it begins and ends, seconds, where that is not the window. */
	readonly from?: number;
	readonly to?: number | null;
};

/** The physics of one finding. */
export type FaultModel = {
	readonly code: FaultCode;
	readonly scope: 'finger' | 'stick' | 'analog' | 'button' | 'link';
	readonly variants: readonly string[];
	/** Puts the cause into the rig: hooks in the analog chain, the sender, the wire or the delivery. */
	readonly install: (rig: Rig, fault: FaultSetting) => FaultOutcome;
};

/** The two limits of a definition and a gross case, all positive and on one side of each other. */
export type Limits = {readonly mustNot: number; readonly must: number; readonly gross: number};

/**
 * Quantity for a severity: geometric between the limits, since sizes of faults spread over decades. `margin` keeps
 * severity 0 that share beyond "must" and −1 that share within "must not", so that noise does not undo the label.
 */
export function graded(severity: number, limits: Limits, margin = 0.06): number {
	const away = limits.gross > limits.must ? 1 + margin : 1 / (1 + margin);
	const must = limits.must * away;
	const mustNot = limits.mustNot / away;
	return severity < 0 ? must * (mustNot / must) ** -severity : must * (limits.gross / must) ** severity;
}
