/** A finding as far as scoring needs it. */
export type Found = {
	readonly code: string;
	readonly channel: string | null;
	readonly status?: string;
	readonly from: number;
	readonly flaggedAt: number;
	readonly to: number | null;
	readonly summary?: string;
};

/** A row of `checks` (check-values D4). */
export type CheckRow = {
	readonly code: string;
	readonly channel: string | null;
	readonly state: string;
	readonly seen: number;
	readonly needed: number;
};

/** What is looked at of a session at one moment. What an edition does not tell yet may be missing. */
export type Look = {
	readonly t: number;
	readonly findings: readonly Found[];
	readonly channels: readonly {readonly name: string; readonly role: string; readonly state?: string}[];
	readonly checks?: readonly CheckRow[];
	/** Calm sentences that are no findings. */
	readonly notes?: readonly string[];
	readonly verdict: string;
};

/** The end of a session, and what was wrong about the looks taken before. */
export type Diagnosis = Look & {
	readonly seconds: number;
	/** Wrong rows of `checks` and wrong proofs, each once. */
	readonly slips: readonly string[];
};
