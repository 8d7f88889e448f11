import type {Random} from '../../../source/simulator/random.ts';
import {type Expectation, type Must, nothing} from '../expectation.ts';
import {
	asLog,
	asRecording,
	drawForm,
	type Layout,
	type Line,
	type LineOptions,
	linesOf,
	type RecordingOptions,
	type Stamp,
} from './lines.ts';
import type {Take} from './take.ts';

/** What the user tells the tool besides the log. */
export type Declared = {
	readonly rate?: number;
	readonly fullScale?: number;
	readonly layout?: string;
	readonly baud?: number;
	readonly targetRate?: number;
	/** Text of a sheet. */
	readonly sheet?: string;
};

/** A session as it lies in a file, and what is true of it. */
export type Drawn = {
	readonly text: string;
	readonly declared: Declared;
	readonly seconds: number;
	readonly expectation: Expectation;
};

/** A kind of session. Faults and near-misses have the name of the code they are about. */
export type Family = {
	readonly name: string;
	/** Code that has to be found; undefined where nothing is wrong. */
	readonly code?: string;
	readonly cases: number;
	readonly draw: (random: Random, n: number) => Drawn;
};

export type CaseOptions = Omit<Partial<LineOptions>, 'layout'> & {
	readonly layout?: Layout;
	readonly stamp?: Stamp | 'recording';
	readonly declared?: Declared;
	/** Done to the lines after they were written: what a link does to them. */
	readonly link?: (lines: Line[]) => Line[];
	readonly recording?: RecordingOptions;
	readonly expect?: Partial<Expectation>;
};

/** Writes a take down and says what is true of it. */
export function caseOf(take: Take, options: CaseOptions = {}): Drawn {
	const {random, glove} = take;
	const usual = glove.fingers.length === 5;
	const form = drawForm(random.fork('form'), usual);
	const layout = options.layout ?? form.layout;
	const stamp = options.stamp ?? form.stamp;
	const written = linesOf(take, {...options, layout});
	const lines = options.link ? options.link(written) : written;
	return {
		text:
			stamp === 'recording'
				? asRecording(lines, {baud: roomyBaud(written), ...options.recording})
				: asLog(lines, stamp),
		declared: {
			...(stamp === 'none' && {rate: glove.rate}),
			// Who means to send so few frames says so; else it would be `slow-frames`.
			...(glove.rate < 46 && {targetRate: glove.rate * 0.95}),
			...options.declared,
		},
		seconds: options.recording?.endsAt ?? lines.at(-1)?.at ?? 0,
		expectation: {...nothing, ...options.expect},
	};
}

/** A speed that boards can keep exactly enough (check-values U7), and of which the frames fill no more than six tenths. */
function roomyBaud(lines: readonly Line[]): number {
	const bytes = lines.reduce((sum, {text}) => sum + text.length + 2, 0);
	const seconds = (lines.at(-1)?.at ?? 1) + 0.01;
	return [115_200, 250_000, 500_000].find(baud => bytes / seconds < 0.6 * (baud / 10)) ?? 1_000_000;
}

/** A must on one channel, there from the first frame to the last unless told otherwise. */
export function must(code: string | readonly string[], channel: string | null | 'any', more: Partial<Must> = {}): Must {
	return {
		codes: typeof code === 'string' ? [code] : code,
		channels: channel === 'any' ? 'any' : [channel],
		from: 0,
		evidenceAt: null,
		until: null,
		...more,
	};
}

/** The same state for several channels. */
export function allOf(channels: Iterable<string>, ...states: string[]): Record<string, readonly string[]> {
	return Object.fromEntries([...channels].map(channel => [channel, states]));
}
