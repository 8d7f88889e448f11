import {ask} from '../../source/faults/ask.ts';
import type {Sign} from '../../source/faults/fault.ts';
import {progressOf} from '../../source/faults/progress.ts';
import {findFault} from '../../source/faults/registry.ts';
import type {Features} from '../../source/features/features.ts';
import {TickHistory} from '../../source/features/link/tick-history.ts';
import {LinkFeatures} from '../../source/features/link-features.ts';
import type {BadLineKind} from '../../source/framing/frame-sink.ts';
import type {ChannelRole} from '../../source/framing/layout.ts';
import type {Timing} from '../../source/stream/source-item.ts';

// What comes over a link, without a glove: times, lines, bytes and events, for the checks that look at nothing else.

/** One thing that is heard at stream time `t`, seconds. A line is 40 bytes long unless it says otherwise. */
export type Heard = {readonly t: number; readonly bytes?: number} & (
	| {readonly frame: true; readonly counter?: number; readonly clock?: number}
	/** A damaged line. */
	| {readonly bad: BadLineKind; readonly text?: string}
	/** A frame in which a digit was lost. */
	| {readonly eaten: true}
	/** A line that is no frame. */
	| {readonly text: string}
	/** So many of the bytes are no text; all of them are `fill`. */
	| {readonly junk: number; readonly fill?: number}
	| {readonly event: 'port-lost' | 'reattached' | 'dtr'; readonly detail?: string}
);

export type Listening = {
	readonly timing?: Timing;
	readonly baud?: number | null;
	readonly targetRate?: number;
	/** Columns of a frame besides the fingers. */
	readonly columns?: readonly ('counter' | 'clock')[];
	/** Seconds per unit of the clock. */
	readonly clockUnit?: number;
	/** Channels on which digits were lost. */
	readonly eatenChannels?: number;
	/** The firmware sends a frame only where something has changed. */
	readonly sendsOnChange?: boolean;
	readonly framing?: 'text' | 'slip';
	/** Stream time at which the checks are asked; the last thing heard where left out. */
	readonly until?: number;
	/** The source is not over then. */
	readonly goesOn?: boolean;
};

const lineBytes = 40;

/** What the link's features are after all that. */
export function listen(heard: Iterable<Heard>, options: Listening = {}): Features {
	const {
		timing = 'measured',
		baud = null,
		targetRate = 30,
		columns = [],
		clockUnit = 0.001,
		framing = 'text',
	} = options;
	const link = new LinkFeatures(timing, baud, targetRate);
	link.relayout(columns.includes('clock') ? clockUnit : undefined);
	const counterColumn = columns.indexOf('counter');
	const clockColumn = columns.indexOf('clock');
	const roles: ChannelRole[] = [...columns, 'finger'];
	let nonText = 0;
	let eaten = 0;
	let tick = TickHistory.seconds;
	let now = 0;
	const takeRestart = (): void => {
		const place = link.restarts.place(link.restarts.count[0] - 1);
		link.beginEpoch(link.restarts.at[place], link.restarts.framesBefore[0]);
	};
	const advance = (t: number): void => {
		for (; tick <= t; tick += TickHistory.seconds) link.closeTick(tick, nonText, eaten);
	};
	for (const what of heard) {
		advance(what.t);
		now = what.t;
		if ('event' in what) {
			link.takeEvent(what.t, what.event, what.detail);
			if (what.event === 'reattached') link.beginEpoch(what.t, link.frames);
			continue;
		}
		link.takeBytes(what.t, new Uint8Array(what.bytes ?? lineBytes).fill('junk' in what ? (what.fill ?? 0xf8) : 0x35));
		let isRestart = false;
		if ('frame' in what || 'eaten' in what) {
			if ('eaten' in what) eaten++;
			const values = Float64Array.from(columns, name => ('frame' in what ? (what[name] ?? Number.NaN) : Number.NaN));
			isRestart = link.takeFrame(what.t, values, counterColumn, clockColumn);
		} else if ('bad' in what) isRestart = link.takeBadLine(what.t, what.bad, what.text ?? '512,4');
		else if ('text' in what) isRestart = link.takeStrayLine(what.t, what.text);
		else nonText += what.junk;
		if (isRestart) takeRestart();
	}
	const until = options.until ?? now;
	advance(until);
	link.closeTick(until, nonText, eaten, options.goesOn !== true);
	const channels = roles.map((role, index) => ({index, name: role === 'finger' ? 'thumb' : role, role}));
	return {
		link,
		now: until,
		epochFrom: link.epochFrom,
		layout: {framing, separator: ',', labelled: false, checksum: null, unit: null, channels},
		repeats: {sendsOnChange: options.sendsOnChange === true},
		analog: {excursions: {eatenChannels: options.eatenChannels ?? 0}},
	} as unknown as Features;
}

/** What a check of the link answers, as `check` prints it; and its sign where it is raised. */
export type Answered = {
	readonly state: 'absent' | 'waiting' | 'clear' | 'raised';
	readonly seen: number;
	readonly needed: number;
	readonly sign: Sign | null;
};

export function answer(code: string, heard: Iterable<Heard>, options: Listening = {}): Answered {
	const fault = findFault(code);
	if (fault === undefined) throw new Error(`no fault ${code}`);
	const features = listen(heard, options);
	const {state, sign} = ask(fault, features, 0, false);
	const progress = progressOf(fault, features, 0);
	const {seen, needed} = progress?.chances ?? {seen: 1, needed: 1};
	if (state === 'raised') return {state, seen, needed, sign};
	if (progress === undefined) return {state: 'absent', seen: 0, needed: 0, sign: null};
	return {state: seen < needed ? 'waiting' : 'clear', seen, needed, sign: null};
}

/** Frames from `from` (included) to `to`, `rate` a second, each a little off its time by `jitter` seconds to either side. */
export function frames(from: number, to: number, rate: number, jitter: (n: number) => number = () => 0): Heard[] {
	return Array.from({length: Math.round((to - from) * rate)}, (_, n) => ({
		t: from + n / rate + jitter(n),
		frame: true as const,
	}));
}

/** Things heard from several sides, in order of time. */
export function together(...heard: readonly (readonly Heard[])[]): Heard[] {
	return heard.flat().sort((one, other) => one.t - other.t);
}

/** A number from −1 to 1, the same each time: the golden ratio spreads them evenly, and no pattern repeats. */
export function spread(n: number): number {
	return 2 * ((n * 0.618_033_988_75) % 1) - 1;
}
