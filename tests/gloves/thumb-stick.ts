import {type Course, through} from './draw.ts';

/** A push of the stick: out in 80 ms, held, and back in 80 ms, as springs do. */
export type Push = {
	readonly at: number;
	/** Ends on both axes in percent of half scale from the rest point, low readings negative. */
	readonly x?: number;
	readonly y?: number;
	readonly hold?: number;
	/** Where each axis comes to rest afterwards, percent of full scale; where it rests otherwise, where left out. */
	readonly restX?: number;
	readonly restY?: number;
};

export type Stick = {readonly 'stick-x': Course; readonly 'stick-y': Course};

const way = 0.08;

/** A stick that rests at `restX` and `restY` percent of full scale and is pushed. */
export function pushed(pushes: readonly Push[], restX = 50, restY = 50): Stick {
	const axis = (rest: number, end: (push: Push) => number, after: (push: Push) => number | undefined): Course => {
		const points: [number, number][] = [[0, rest]];
		for (const push of pushes) {
			const {at, hold = 0.3} = push;
			const level = rest + end(push) / 2;
			points.push([at, points[points.length - 1][1]], [at + way, level], [at + way + hold, level]);
			points.push([at + 2 * way + hold, after(push) ?? rest]);
		}
		return through(...points);
	};
	return {
		'stick-x': axis(
			restX,
			({x = 0}) => x,
			push => push.restX,
		),
		'stick-y': axis(
			restY,
			({y = 0}) => y,
			push => push.restY,
		),
	};
}

/** Pushes of an axis to these ends one after the other, each a second; percent of half scale. */
export function along(axis: 'x' | 'y', ends: readonly number[], from = 3): Push[] {
	return ends.map((end, i) => ({at: from + i, [axis]: end}));
}

/** A stick that is turned around at `radius` percent of half scale, a second a turn, and rests at both ends. */
export function turned(turns: number, radius = 95, from = 3): Stick {
	const at = (t: number): number =>
		Math.min(1, Math.max(0, (t - from) / way, 0), Math.max(0, (from + turns - t) / way));
	const angle = (t: number): number => 2 * Math.PI * (t - from);
	return {
		'stick-x': t => 50 + (radius / 2) * at(t) * Math.cos(angle(t)),
		'stick-y': t => 50 + (radius / 2) * at(t) * Math.sin(angle(t)),
	};
}

/** A stick whose axis is held back at a level, percent of full scale: nothing goes above (or below) it. */
export function stopped(stick: Stick, axis: 'stick-x' | 'stick-y', low: number, high: number): Stick {
	return {...stick, [axis]: (t: number) => Math.max(low, Math.min(high, stick[axis](t)))};
}
