import type {Random} from '../../../source/simulator/random.ts';
import type {Stroke} from './strokes.ts';

/** A stretch of a stick's way: where it stands, in shares of the way to its stops, `t` seconds after the stretch began. */
export type StickStretch = {
	readonly start: number;
	readonly seconds: number;
	readonly at: (t: number) => readonly [number, number];
};

export type Press = {readonly button: number; readonly start: number; readonly seconds: number};

/** A push of the stick along one axis, −1 or +1 being its side. */
export type Push = {readonly axis: 'x' | 'y'; readonly side: number; readonly depth: number; readonly end: number};

/**
 * What a wearer does in one session, in order, and when each piece of evidence was complete: docs/faults.md counts
 * movements, so what a diagnosis can know at a time is known here beforehand.
 */
export class Plan {
	/** Seconds: how far the session is planned. */
	t = 0;
	readonly strokes: Stroke[] = [];
	readonly stick: StickStretch[] = [];
	readonly presses: Press[] = [];
	/** When each movement of the whole hand was over. */
	readonly whole: number[] = [];
	/** When each way of a finger of at least 0.4 of its travel was over. */
	readonly ways: Readonly<Record<string, number[]>>;
	/** Fingers that have gone all their way while no other moved. */
	readonly wentAlone = new Set<string>();
	readonly pushes: Push[] = [];
	readonly turns: number[] = [];
	/** When the stick came back to rest from beyond the middle quarter. */
	readonly releases: number[] = [];
	private readonly targets = new Map<string, number>();

	constructor(
		readonly random: Random,
		readonly fingers: readonly string[],
	) {
		this.ways = Object.fromEntries(fingers.map(finger => [finger, []]));
	}

	at(finger: string): number {
		return this.targets.get(finger) ?? 0;
	}

	/** Sends one finger to `target`, beginning `delay` after now. Time stays where it is. */
	move(finger: string, target: number, seconds: number, delay = 0): void {
		const start = this.t + delay;
		// A finger that only says hello is no way gone there.
		if (Math.abs(target - this.at(finger)) >= 0.4) this.ways[finger].push(start + seconds);
		this.targets.set(finger, target);
		this.strokes.push({finger, start, seconds, target});
	}

	wait(seconds: number): void {
		this.t += seconds;
	}

	/** When this many movements of the whole hand had been seen since `from`; null where the session has fewer. */
	wholeBy(count: number, from = 0): number | null {
		return this.whole.filter(t => t > from)[count - 1] ?? null;
	}

	/** The same for the ways of one finger. */
	waysBy(finger: string, count: number, from = 0): number | null {
		return this.ways[finger].filter(t => t > from)[count - 1] ?? null;
	}

	/** When the first of these fingers had gone there and back twice, which proves it. */
	firstProof(fingers: readonly string[] = this.fingers): number | null {
		const times = fingers.flatMap(finger => this.waysBy(finger, 4) ?? []);
		return times.length === 0 ? null : Math.min(...times);
	}
}
