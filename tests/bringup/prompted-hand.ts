import type {StepRecord} from '../../source/bringup/step-record.ts';
import {promptOf, stepsFor} from '../../source/bringup/steps.ts';
import type {Channel} from '../../source/framing/layout.ts';

/** A turn of the stick is seen before it is whole: the hand goes on to its end. */
const afterTurnSeconds = 0.5;

/**
 * A hand that reads the prompts: it does what is asked for, and rests until something else is asked. Its movements are
 * cut from a whole routine, `rows` at `framesPerSecond`, by what the engine recorded of it. Where nothing else is asked for
 * within `againFrames`, it was not seen, and is done once more.
 */
export class PromptedHand {
	private readonly prompts: ReadonlyMap<string, string>;
	private readonly movements: ReadonlyMap<string, readonly (readonly number[])[]>;
	/** Ids of the steps it was asked for, in order. */
	readonly asked: string[] = [];
	private readonly againFrames: number;
	private at = 0;

	constructor(
		rows: readonly (readonly number[])[],
		framesPerSecond: number,
		channels: readonly Channel[],
		records: readonly StepRecord[],
		againFrames: number,
	) {
		this.againFrames = againFrames;
		this.prompts = new Map(stepsFor(channels).map(step => [step.id, promptOf(step)]));
		const frame = (seconds: number) => Math.round(seconds * framesPerSecond);
		let from = 0;
		const movements = records.map(({id, to}) => {
			const until = frame(id === 'stick around' ? to + afterTurnSeconds : to);
			const movement = rows.slice(from, until);
			from = until;
			return [id, movement] as const;
		});
		this.movements = new Map(movements);
	}

	/** The next frame; `screen` is what can be read now. */
	next(screen: string): readonly number[] {
		const asked = [...this.prompts].find(([, prompt]) => screen.includes(prompt))?.[0];
		if (asked !== undefined && asked !== this.asked.at(-1)) {
			this.asked.push(asked);
			this.at = 0;
		}

		const movement = this.movements.get(this.asked.at(-1) ?? 'rest') ?? [];
		if (this.at < movement.length) return movement[this.at++];
		if (this.at >= movement.length + this.againFrames) this.at = 0;
		const rest = this.movements.get('rest')!;
		return rest[this.at++ % rest.length];
	}
}
