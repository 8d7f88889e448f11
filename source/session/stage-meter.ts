/** Where the time of a run goes: each stage of the core, `source` for what happens between two items. */
export const stages = ['source', 'framing', 'frames', 'blocks', 'checks', 'findings'] as const;

export type Stage = (typeof stages)[number];

/** Told by the session which stage it enters; it reads the clock, which the core must not. */
export type StageMeter = {
	/** Another stage begins; answers the one before, to be entered again once this one is over. */
	readonly enter: (stage: Stage) => Stage;
};
