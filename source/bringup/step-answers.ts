import type {Pull} from './pull-tracker.ts';
import type {KeptPull} from './step-record.ts';

/** What has answered in the current step, by column: pulls of fingers and axes, presses of buttons. */
export class StepAnswers {
	private readonly pulls = new Map<number, Pull[]>();
	private readonly presses = new Map<number, number>();

	/** Takes a pull; answers how many its column has now. */
	addPull(pull: Pull): number {
		const pulls = [...(this.pulls.get(pull.column) ?? []), pull];
		this.pulls.set(pull.column, pulls);
		return pulls.length;
	}

	/** Takes a press; answers how many its column has now. */
	addPress(column: number): number {
		const presses = (this.presses.get(column) ?? 0) + 1;
		this.presses.set(column, presses);
		return presses;
	}

	/** Pulls, or presses, of a column so far. */
	countOf(column: number): number {
		return (this.pulls.get(column)?.length ?? 0) + (this.presses.get(column) ?? 0);
	}

	/** What a column has answered with. */
	of(column: number): {readonly column: number; readonly pulls: readonly KeptPull[]; readonly presses: number} {
		const pulls = (this.pulls.get(column) ?? []).map(keptPull);
		return {column, pulls, presses: this.presses.get(column) ?? 0};
	}

	/** The column pulled most often and its pulls; of two alike the one that should have been, `own`. */
	mostPulled(own: number): {readonly column: number | null; readonly pulls: readonly KeptPull[]} {
		const column = strongest(this.pulls, pulls => pulls.length, own);
		return {column, pulls: column === null ? [] : this.pulls.get(column)!.map(keptPull)};
	}

	/** The column pressed most often and how often. */
	mostPressed(own: number): {readonly column: number | null; readonly presses: number} {
		const column = strongest(this.presses, presses => presses, own);
		return {column, presses: column === null ? 0 : this.presses.get(column)!};
	}
}

/** What is kept of a pull. */
export function keptPull({column, before, after, excursion, wobble, dropouts}: Pull): KeptPull {
	return {column, before, after, excursion, wobble, dropouts};
}

function strongest<Answer>(
	answers: ReadonlyMap<number, Answer>,
	size: (answer: Answer) => number,
	own: number,
): number | null {
	let best: number | null = null;
	let most = 0;
	for (const [column, answer] of answers) {
		if (size(answer) > most || (size(answer) === most && column === own)) {
			best = column;
			most = size(answer);
		}
	}

	return best;
}
