import type {Status} from '../faults/fault-code.ts';

/**
 * Something in a sheet that will not work or wants a look, known before anything is built. Statuses as for findings:
 * `failure` cannot work or does damage, `out-of-spec` works with doubt, `function-check` wants a look.
 */
export type PlanFinding = {
	readonly code: string;
	readonly status: Status;
	/** Channel name; null where the whole glove is meant. */
	readonly channel: string | null;
	/** Line of the sheet; undefined where none is to blame. */
	readonly line?: number;
	readonly summary: string;
	readonly advice: string;
	readonly caution?: string;
};
