import type {Features} from '../../features/features.ts';

/** A number that a check decides by; code, `explain` and docs/faults.md read it here. */
export type Limit = {
	/** From here on the gate is open: a figure beyond it speaks for the fault. In `unit`. */
	readonly raise: number;
	/** An open finding closes once its figure is back on the other side of this; `raise` where left out. */
	readonly clear?: number;
	/** The operational definition of docs/faults.md: found from here on, silent from there on; null where it names none. */
	readonly must: number | null;
	readonly mustNot: number | null;
	/** `% FS rms`, `whole-hand movements`, … */
	readonly unit: string;
	/** Where the number comes from: a derivation, a source, "common practice, no source", "from memory". */
	readonly because: string;
};

/** A figure of one place (a channel's, a button's; 0 for the link), in its limit's unit; undefined where there is none yet. */
type Measure = (features: Features, place: number) => number | undefined;

/** Whether a figure is beyond `raise`, a limit in its unit: what comparing the figure itself says, found with less work. */
type IsBeyond = (features: Features, place: number, raise: number) => boolean;

/**
 * A condition that has to hold before a check speaks.
 * - `ground`: without it the check does not apply to this glove at all (no counter, no sheet, no fingers).
 * - `chance`: counts occasions on which the fault would have shown; until `limits[name].raise` the check waits for `next`.
 * - `at least`, `at most`: a figure beyond `limits[name]`.
 * - `unless`: anything else that speaks against it; `says` tells what was seen, `asks` what would be right. With `waits` it
 *   is not evidence against the fault but a wait for `next`.
 */
export type Gate =
	| {
			readonly kind: 'ground';
			readonly name: string;
			readonly asks: string;
			readonly holds: (features: Features, place: number) => boolean;
			/** True where it never will hold under this layout, sheet and source: there the check need not be asked again. */
			readonly isNever?: (features: Features, place: number) => boolean;
	  }
	| {
			readonly kind: 'chance';
			readonly name: string;
			readonly saw: Measure;
			readonly next: string | ((features: Features, place: number) => string);
	  }
	| {
			readonly kind: 'at least' | 'at most';
			readonly name: string;
			readonly saw: Measure;
			readonly isBeyond?: IsBeyond;
	  }
	| {
			readonly kind: 'unless';
			readonly name: string;
			readonly asks: string;
			readonly says: (features: Features, place: number) => string | undefined;
			readonly waits?: boolean;
			readonly next?: string;
	  };

/** The check applies only where `holds` does; `asks` says what it is for, `isNever` where it never will. */
export function ground(
	name: string,
	asks: string,
	holds: (features: Features, place: number) => boolean,
	isNever?: (features: Features, place: number) => boolean,
): Gate {
	return {kind: 'ground', name, asks, holds, ...(isNever !== undefined && {isNever})};
}

/** A ground that the layout, the sheet and the source decide, so that it holds for as long as they stay or never. */
export function lasting(name: string, asks: string, holds: (features: Features, place: number) => boolean): Gate {
	return ground(name, asks, holds, (features, place) => !holds(features, place));
}

/** Occasions counted against the limit of this name; `next` is the movement that gives the next one. */
export function chances(
	name: string,
	saw: Measure,
	next: string | ((features: Features, place: number) => string),
): Gate {
	return {kind: 'chance', name, saw, next};
}

/** `isBeyond` where it takes less work to say that the figure is below the limit than to work it out. */
export function atLeast(name: string, saw: Measure, isBeyond?: IsBeyond): Gate {
	return {kind: 'at least', name, saw, ...(isBeyond !== undefined && {isBeyond})};
}

/** Likewise. */
export function atMost(name: string, saw: Measure, isBeyond?: IsBeyond): Gate {
	return {kind: 'at most', name, saw, ...(isBeyond !== undefined && {isBeyond})};
}

/**
 * Whether a figure opens a gate that asks for at least `raise`; one that is not known yet opens none. To be asked by `isBeyond` where a
 * figure is asked of every channel time and again: a number that is told is allocated, a yes or no is not.
 */
export function reachesLimit(saw: number | undefined, raise: number): boolean {
	return saw !== undefined && saw >= raise;
}

/** Likewise of a gate that asks for at most `raise`. */
export function keepsBelow(saw: number | undefined, raise: number): boolean {
	return saw !== undefined && saw <= raise;
}

/** Refuses where `says` gives a sentence: what was seen that speaks against the fault. */
export function unless(
	name: string,
	asks: string,
	says: (features: Features, place: number) => string | undefined,
): Gate {
	return {kind: 'unless', name, asks, says};
}

/** Refuses where `says` gives a sentence, as something that may yet come: the check waits for the movement `next`. */
export function waitsFor(
	name: string,
	asks: string,
	says: (features: Features, place: number) => string | undefined,
	next: string,
): Gate {
	return {kind: 'unless', name, asks, says, waits: true, next};
}

/** What a gate asks, in words; `limit` is the one of its name, for gates that have a figure. */
export function asksOf(gate: Gate, limit: Limit | undefined): string {
	if (gate.kind === 'ground' || gate.kind === 'unless') return gate.asks;
	return `${gate.kind === 'at most' ? 'at most' : 'at least'} ${limit?.raise} ${limit?.unit}`;
}

/** Why a check did not speak: the gate that refused, what it saw and what it asks. */
export type Refusal = {
	readonly gate: string;
	readonly kind: Gate['kind'];
	readonly saw: number | string | null;
	readonly asks: string;
	/** It is a wait for the movement `next`, not evidence against the fault. */
	readonly waits: boolean;
	readonly next: string | null;
};
