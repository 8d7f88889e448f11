import type {Session} from '../session/session.ts';

/** What a guided routine asks for, and what came of it; for the bench page. */
export type GuideView = {
	/** From 1; more than `steps` once all are done. */
	readonly step: number;
	readonly steps: number;
	/** What is asked for, in a sentence. */
	readonly prompt: string;
	/** The same in one word, for large letters. */
	readonly asked: string;
	/** Movements that answered so far, and how many it takes. */
	readonly count: number;
	readonly need: number;
	/** Marks of a ruler that were read in this step; each is worth a bell. */
	readonly marks: number;
	/** What it was answered with that does not fit; null without. */
	readonly hint: string | null;
	/** The channel that moved in the place of the one asked for, and whether enter may take it for that. */
	readonly moved: string | null;
	readonly mayTake: boolean;
	/** What the step before found. */
	readonly last: string | null;
	readonly isOver: boolean;
	/** What became of channels that did not answer as themselves, by name. */
	readonly answers: ReadonlyMap<string, string>;
};

/** A routine that leads the bench page on a live glove. */
export type Guide = {
	/** Null before the first frame. */
	readonly view: GuideView | null;
	/** Takes in what a session has taken in since. */
	follow(session: Session): void;
	/** Goes on without an answer. */
	skip(): void;
	/** The step once more, or the one before. */
	again(): void;
	/** What moved is what was asked for: the wires are crossed. */
	take(): void;
};
