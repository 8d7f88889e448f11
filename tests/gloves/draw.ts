import {Session} from '../../source/session/session.ts';
import type {SessionOptions} from '../../source/session/session-options.ts';
import {Random} from '../../source/simulator/random.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';

// Small gloves drawn by hand for tests: each channel a function of time. No model of a glove stands behind it, so that
// what a test shows is in the test.

/** A channel's reading at stream time `t` (seconds), in percent of full scale; without noise, not yet rounded. */
export type Course = (t: number) => number;

/** A glove and what it does. */
export type Drawing = {
	/** In the order of the columns, by name (`thumb`, `stick-x`, `button-1` …). */
	readonly channels: Readonly<Record<string, Course>>;
	readonly seconds: number;
	/** Frames a second; 100 where left out. */
	readonly rate?: number;
	/** Counts; 1023 where left out. */
	readonly fullScale?: number;
	/** White noise of each channel, rms in percent of full scale: one figure for all, or by name. 0.1 where left out. */
	readonly noise?: number | Readonly<Record<string, number>>;
	readonly seed?: number;
	/** Readings are rounded to whole counts unless false: then they are written with two decimals. */
	readonly whole?: boolean;
};

/** Readings of every channel and frame: `[frame][column]`, counts, held between 0 and full scale. */
export function readings(drawing: Drawing): number[][] {
	const {channels, seconds, rate = 100, fullScale = 1023, noise = 0.1, seed = 1, whole = true} = drawing;
	const random = new Random(seed);
	const columns = Object.entries(channels).map(([name, course]) => ({
		course,
		rms: typeof noise === 'number' ? noise : (noise[name] ?? 0.1),
	}));
	return Array.from({length: Math.round(seconds * rate)}, (_, frame) =>
		columns.map(({course, rms}) => {
			const counts = ((course(frame / rate) + rms * random.normal()) / 100) * fullScale;
			const held = Math.max(0, Math.min(fullScale, counts));
			return whole ? Math.round(held) : Math.round(100 * held) / 100;
		}),
	);
}

/** The drawing as a stream: one comma-separated line a frame, each at its own time. */
export function draw(drawing: Drawing): SourceItem[] {
	const {rate = 100} = drawing;
	const encoder = new TextEncoder();
	return readings(drawing).map((values, frame) => ({t: frame / rate, bytes: encoder.encode(`${values.join(',')}\n`)}));
}

/** A session over a drawing, to its end; its layout and full scale are declared. */
export function sessionOver(drawing: Drawing, options: Partial<SessionOptions> = {}): Session {
	const session = new Session({
		timing: 'measured',
		fullScale: drawing.fullScale ?? 1023,
		layout: Object.keys(drawing.channels).join(','),
		...options,
	});
	for (const item of draw(drawing)) session.push(item);
	session.end(drawing.seconds);
	return session;
}

/** What was found, as `narrow-span ring`, in alphabetical order. */
export function found(session: Session): string[] {
	return session.findings.map(({code, channel}) => (channel === null ? code : `${code} ${channel}`)).sort();
}

/** A level that is held, percent of full scale. */
export function held(level: number): Course {
	return () => level;
}

/**
 * Goes through `[time, level]` in order, at rest before the first and after the last. Between two of them that differ the
 * way is a minimum-jerk profile: a hand's (Flash & Hogan 1985, from memory).
 */
export function through(...points: readonly (readonly [t: number, level: number])[]): Course {
	return t => {
		let i = points.findIndex(([at]) => at > t);
		if (i < 0) i = points.length;
		if (i === 0) return points[0][1];
		const [from, low] = points[i - 1];
		if (i === points.length) return low;
		const [to, high] = points[i];
		return low + (high - low) * profile((t - from) / (to - from));
	};
}

/** Minimum-jerk share of the way at share `phase` (0…1) of the time: a tenth of it at 0.247, half at 0.5, nine tenths at 0.753. */
export function profile(phase: number): number {
	const p = Math.max(0, Math.min(1, phase));
	return p * p * p * (10 + p * (6 * p - 15));
}

/** How a finger takes part in fists: times in seconds, levels in percent of full scale. */
export type Fists = {
	readonly open: number;
	readonly closed: number;
	/** When the first closing begins. */
	readonly from?: number;
	readonly times: number;
	/** From one closing to the next. */
	readonly period?: number;
	/** How long a closing or an opening takes. */
	readonly way?: number;
};

/** Closes and opens `times` times: the closing at the beginning of each period, the opening at its half. */
export function fists({open, closed, from = 1, times, period = 2, way = 0.4}: Fists): Course {
	const points: [number, number][] = [];
	for (let k = 0; k < times; k++) {
		const at = from + k * period;
		points.push([at, open], [at + way, closed], [at + period / 2, closed], [at + period / 2 + way, open]);
	}
	return points.length > 0 ? through(...points) : held(open);
}

/** The sum of courses, each beyond the first as what it adds. */
export function sum(...courses: readonly Course[]): Course {
	return t => courses.reduce((level, course) => level + course(t), 0);
}
