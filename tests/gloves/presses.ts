import type {Course} from './draw.ts';

/** A press of a button to the other state and back. */
export type Press = {
	readonly at: number;
	readonly hold?: number;
	/** Times that the contact opens again after pressing, or closes again after letting go, each time for `gap` seconds. */
	readonly bounces?: number;
	readonly releaseBounces?: number;
	readonly gap?: number;
};

/** A button that idles at `idle` percent of full scale (0 or 100) and is pressed. */
export function presses(list: readonly Press[], idle: 0 | 100 = 0): Course {
	const edges = list.flatMap(({at, hold = 0.3, bounces = 0, releaseBounces = 0, gap = 0.01}) => [
		...Array.from({length: 1 + 2 * bounces}, (_, i) => at + gap * i),
		...Array.from({length: 1 + 2 * releaseBounces}, (_, i) => at + hold + gap * i),
	]);
	// Half a millisecond late, so that no frame falls on an edge.
	return t => (edges.filter(edge => edge <= t + 5e-4).length % 2 === 1 ? 100 - idle : idle);
}

/** What a drawing has as noise where its buttons have none, as digital inputs do: `noise: digital`. */
export const digital: Readonly<Record<string, number>> = {'button-1': 0, 'button-2': 0, 'button-3': 0, 'button-4': 0};
