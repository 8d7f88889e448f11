import {type Course, profile} from './draw.ts';

/** One way of a channel: begins at `at` and ends at level `to`, percent of full scale. */
export type Stroke = {
	readonly at: number;
	readonly to: number;
	/** How long the finger takes, seconds; 0.4 where left out. */
	readonly way?: number;
	/** Share of the finger's way that is gone before the reading moves: play in the reel. */
	readonly play?: number;
};

/** Strokes one after the other from a first level; each has ended before the next begins. */
export function strokes(first: number, list: readonly Stroke[]): Course {
	return t => {
		let level = first;
		for (const {at, to, way = 0.4, play = 0} of list) {
			if (t <= at) return level;
			const gone = Math.max(0, (profile((t - at) / way) - play) / (1 - play));
			if (gone < 1) return level + gone * (to - level);
			level = to;
		}
		return level;
	};
}

/** The time between two strokes of the same hand, from the beginning of one to that of the next, seconds. */
export const pace = 1.2;

/**
 * Strokes at an even pace from 1 s on, to these levels in turn; `more` adds to each by its number: another way, play, or a
 * delay `late` in seconds.
 */
export function turnTo(
	first: number,
	levels: readonly number[],
	more: (number: number) => Omit<Stroke, 'at' | 'to'> & {readonly late?: number} = () => ({}),
): Course {
	return strokes(
		first,
		levels.map((to, number) => {
			const {late = 0, ...rest} = more(number);
			return {at: 1 + number * pace + late, to, ...rest};
		}),
	);
}

/** Closed and open in turn: `count` levels. */
export function inTurn(count: number, closed: number, open: number): number[] {
	return Array.from({length: count}, (_, number) => (number % 2 === 0 ? closed : open));
}
