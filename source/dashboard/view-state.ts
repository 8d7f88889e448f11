import {itemAt} from '../item-at.ts';

/** The dashboard's pages. */
export type Page = 'overview' | 'bench' | 'trend' | 'findings' | 'checks' | 'link' | 'stick' | 'keys';

/** What the reducer has to know of a glove to move a selection about. */
type GloveFacts = {
	readonly channels: readonly string[];
	/** `findingKey` of each finding, in the order of the list. */
	readonly findings: readonly string[];
	/** Stream seconds. */
	readonly t: number;
};

/** Everything the person at the keys has chosen. Nothing of what the gloves send is in here. */
export type ViewState = {
	readonly mode: 'live' | 'replay';
	readonly page: Page;
	/** Where Esc leads. */
	readonly backTo: Page;
	readonly gloves: readonly GloveFacts[];
	/** The glove the keys are for. */
	readonly focus: number;
	/** A bring-up leads the bench page. */
	readonly guided: boolean;
	/** The bring-up was answered by another channel than was asked: enter says that the wires are crossed. */
	readonly offered: boolean;
	/** Whether bells are rung. */
	readonly bell: boolean;
	/** The selected channel by name; null until one was chosen. */
	readonly channel: string | null;
	/** More channels in the trend. */
	readonly pinned: readonly string[];
	/** Width of the trend. */
	readonly trendSeconds: number;
	/** Right edge of the trend in stream seconds; null: it follows. */
	readonly trendEnd: number | null;
	readonly finding: string | null;
	/** The selected finding is shown in full. */
	readonly detail: boolean;
	/** First line shown of a page longer than the screen. */
	readonly scroll: number;
	/** Live: the picture stands still while data goes on. Replay: not playing. */
	readonly held: boolean;
	readonly speed: number;
	readonly loop: boolean;
	/** What is being typed: the text of a mark, or a time to go to; null when nothing is. */
	readonly entry: {readonly what: 'mark' | 'time'; readonly text: string} | null;
};

/** What a key, or the passing of time, means. */
export type Message =
	| {readonly type: 'page'; readonly page: Page}
	| {readonly type: 'back'}
	| {readonly type: 'select'; readonly by: 1 | -1}
	| {readonly type: 'open'}
	| {readonly type: 'travel'; readonly by: 1 | -1}
	| {readonly type: 'travel-far'; readonly by: 1 | -1}
	| {readonly type: 'edge'; readonly edge: 'start' | 'end'}
	| {readonly type: 'zoom'; readonly by: 1 | -1}
	| {readonly type: 'hold'}
	| {readonly type: 'speed'; readonly speed: number}
	| {readonly type: 'step'; readonly by: 1 | -1}
	| {readonly type: 'loop'}
	| {readonly type: 'to-finding'; readonly by: 1 | -1}
	| {readonly type: 'to-mark'; readonly by: 1 | -1}
	| {readonly type: 'record'}
	| {readonly type: 'bell'}
	| {readonly type: 'forget'; readonly all: boolean}
	| {readonly type: 'guide'; readonly what: 'skip' | 'again'}
	| {readonly type: 'other-glove'}
	| {readonly type: 'entry'; readonly what: 'mark' | 'time'}
	| {readonly type: 'entry-typed'; readonly text: string}
	| {readonly type: 'entry-erase'}
	| {readonly type: 'entry-keep'}
	| {readonly type: 'entry-drop'}
	| {readonly type: 'redraw'}
	| {readonly type: 'suspend'}
	| {readonly type: 'quit'}
	| {readonly type: 'interrupt'}
	/** A key without a meaning: none at all, or none in this mode. */
	| {readonly type: 'no-use'; readonly key: string; readonly where: 'anywhere' | 'live' | 'replay' | 'bringup' | 'two'}
	| {readonly type: 'facts'; readonly gloves: readonly GloveFacts[]; readonly offered: boolean}
	/** The player stopped at the end of the recording. */
	| {readonly type: 'played-out'};

/** What has to be done in the world. The first group is the desk's, the second the terminal's. */
export type Effect =
	| {readonly do: 'seek'; readonly by: number}
	| {readonly do: 'seek-share'; readonly by: number}
	| {readonly do: 'seek-edge'; readonly edge: 'start' | 'end'}
	/** Playing on from the end can only mean: once more. */
	| {readonly do: 'play-on'}
	| {readonly do: 'step'; readonly by: 1 | -1}
	| {readonly do: 'jump'; readonly to: 'finding' | 'mark'; readonly by: 1 | -1}
	| {readonly do: 'go-to'; readonly text: string}
	| {readonly do: 'mark'; readonly text: string}
	| {readonly do: 'record'}
	/** Of one channel, or of all. */
	| {readonly do: 'forget'; readonly channel: string | null}
	| {readonly do: 'guide'; readonly what: 'skip' | 'again' | 'take'}
	| {readonly do: 'say'; readonly text: string}
	| {readonly do: 'leave'; readonly interrupted: boolean}
	| {readonly do: 'suspend'}
	| {readonly do: 'redraw'};

/** The view after a message, and what it asks for. */
export type Reduced = {readonly view: ViewState; readonly effects: readonly Effect[]};

/** Speeds of a replay, on the keys 1 to 9. */
export const speeds: readonly number[] = [0.1, 0.25, 0.5, 1, 2, 5, 10, 30, 100];

/** Widths of the trend in seconds, narrow to wide. */
const trendWidths: readonly number[] = [0.5, 1, 2, 5, 10, 20, 60, 120, 300, 600, 1800, 3600];

/** A mark longer than a few lines of the screen helps nobody. */
const longestEntry = 200;

/** Seconds a replay goes back or on by an arrow key. */
const arrowSeconds = 5;

export function initialViewState(options: {
	readonly mode: 'live' | 'replay';
	readonly gloves: number;
	readonly guided?: boolean;
	readonly bell?: boolean;
	readonly held?: boolean;
	readonly speed?: number;
	readonly page?: Page;
}): ViewState {
	return {
		mode: options.mode,
		page: options.page ?? 'overview',
		backTo: 'overview',
		gloves: Array.from({length: options.gloves}, () => ({channels: [], findings: [], t: 0})),
		focus: 0,
		guided: options.guided ?? false,
		offered: false,
		bell: options.bell ?? false,
		channel: null,
		pinned: [],
		trendSeconds: 20,
		trendEnd: null,
		finding: null,
		detail: false,
		scroll: 0,
		held: options.held ?? false,
		speed: options.speed ?? 1,
		loop: false,
		entry: null,
	};
}

/** The view after a message, and what has to be done in the world. Pure. */
export function reduceView(state: ViewState, message: Message): Reduced {
	const view = changed(state, message);
	return {view, effects: effectsOf(state, message, view)};
}

/** The same for a message that a key stood for: one that comes to nothing is told so. */
export function reduceKey(state: ViewState, message: Message, key: string): Reduced {
	const reduced = reduceView(state, message);
	const isNothing = reduced.effects.length === 0 && state.entry === null && sameView(state, reduced.view);
	return isNothing ? {...reduced, effects: [noUse(key, '')]} : reduced;
}

type Changes = {
	readonly [Type in Message['type']]?: (state: ViewState, message: Extract<Message, {type: Type}>) => ViewState;
};

/** Whoever looks for a place in a replay wants to look at it. */
const holdReplay = (state: ViewState): ViewState => (state.mode === 'replay' ? {...state, held: true} : state);

/** What each message makes of the view; the others leave it as it is. */
const changes: Changes = {
	page: (state, {page}) => toPage(state, page),
	back,
	select: (state, {by}) => select(state, by),
	open,
	travel: (state, {by}) => travelTrend(state, by / 4),
	'travel-far': (state, {by}) => travelTrend(state, by),
	edge: (state, {edge}) =>
		state.mode === 'live' ? {...state, trendEnd: edge === 'end' ? null : state.trendSeconds} : state,
	zoom: (state, {by}) => ({...state, trendSeconds: stepIn(trendWidths, state.trendSeconds, -by)}),
	hold: state => ({...state, held: !state.held}),
	speed: (state, {speed}) => ({...state, speed}),
	step: holdReplay,
	'to-finding': holdReplay,
	'to-mark': holdReplay,
	loop: state => ({...state, loop: !state.loop}),
	bell: state => ({...state, bell: !state.bell}),
	'other-glove': toOtherGlove,
	entry: (state, {what}) => ({...state, entry: {what, text: ''}}),
	'entry-typed': (state, {text}) => withEntry(state, before => (before + text).slice(0, longestEntry)),
	'entry-erase': state => withEntry(state, text => [...text].slice(0, -1).join('')),
	'entry-keep': state => ({...state, entry: null}),
	'entry-drop': state => ({...state, entry: null}),
	facts: (state, {gloves, offered}) => ({...state, gloves, offered}),
	'played-out': state => ({...state, held: true}),
};

function changed(state: ViewState, message: Message): ViewState {
	const change = changes[message.type] as ((state: ViewState, message: Message) => ViewState) | undefined;
	return change === undefined ? state : change(state, message);
}

type Asked = {
	readonly [Type in Message['type']]?: (
		message: Extract<Message, {type: Type}>,
		before: ViewState,
		view: ViewState,
	) => Effect | undefined;
};

/** What each message asks for in the world, of the view before it and after it; the others ask for nothing. */
const asked: Asked = {
	travel: ({by}, {mode}) => (mode === 'replay' ? {do: 'seek', by: by * arrowSeconds} : undefined),
	'travel-far': ({by}, {mode}) => (mode === 'replay' ? {do: 'seek-share', by: by / 10} : undefined),
	edge: ({edge}, {mode}) => (mode === 'replay' ? {do: 'seek-edge', edge} : undefined),
	step: ({by}) => ({do: 'step', by}),
	'to-finding': ({by}) => ({do: 'jump', to: 'finding', by}),
	'to-mark': ({by}) => ({do: 'jump', to: 'mark', by}),
	hold: (_, {mode, held}) => (mode === 'replay' && held ? {do: 'play-on'} : undefined),
	open: (_, {offered, page}) => (offered && page === 'bench' ? {do: 'guide', what: 'take'} : undefined),
	guide: ({what}) => ({do: 'guide', what}),
	bell: (_, __, {bell}) => ({do: 'say', text: bell ? `Bell on: ${bellMeaning}.` : 'Bell off.'}),
	forget: ({all}, {channel}) =>
		all || channel !== null
			? {do: 'forget', channel: all ? null : channel}
			: {do: 'say', text: 'Select a channel first, with up and down. Z forgets all of them.'},
	record: () => ({do: 'record'}),
	'entry-keep': (_, {entry}) => {
		const text = entry?.text.trim() ?? '';
		if (text === '') return undefined;
		return entry?.what === 'time' ? {do: 'go-to', text} : {do: 'mark', text};
	},
	'no-use': ({key, where}) => noUse(key, notHere[where]),
	quit: () => ({do: 'leave', interrupted: false}),
	interrupt: () => ({do: 'leave', interrupted: true}),
	suspend: () => ({do: 'suspend'}),
	redraw: () => ({do: 'redraw'}),
};

function effectsOf(before: ViewState, message: Message, view: ViewState): readonly Effect[] {
	const ask = asked[message.type] as
		| ((message: Message, before: ViewState, view: ViewState) => Effect | undefined)
		| undefined;
	const effect = ask?.(message, before, view);
	return effect === undefined ? [] : [effect];
}

/** What bells mean, wherever that is said. */
const bellMeaning = 'one = proven or step done, two = lost or faulty';

/** Where a key does nothing that does something elsewhere. */
const notHere = {
	anywhere: '',
	live: ' in a replay',
	replay: ' on a live glove',
	bringup: ' outside of a bring-up',
	two: ' with one glove',
} as const;

function noUse(key: string, where: string): Effect {
	return {do: 'say', text: `${key} does nothing${where || ' here'}: ? lists the keys.`};
}

function sameView(a: ViewState, b: ViewState): boolean {
	return (Object.keys(a) as (keyof ViewState)[]).every(name => a[name] === b[name]);
}

/** One step out: of a finding, of the page, or of what is selected. */
function back(state: ViewState): ViewState {
	if (state.detail) return {...state, detail: false, scroll: 0};
	if (state.page === 'overview' || (state.page === 'bench' && state.guided)) return {...state, channel: null};
	return toPage(state, state.page === 'keys' ? state.backTo : homeOf(state));
}

function toOtherGlove(state: ViewState): ViewState {
	const focus = (state.focus + 1) % Math.max(1, state.gloves.length);
	return {...state, focus, channel: null, finding: null, detail: false, scroll: 0};
}

/** Where Esc leads in the end. */
function homeOf({guided}: ViewState): Page {
	return guided ? 'bench' : 'overview';
}

function toPage(state: ViewState, page: Page): ViewState {
	// A second `?` leads back to what was looked at; the other keys always lead to their page.
	const target = page === 'keys' && state.page === 'keys' ? state.backTo : page;
	return {...state, page: target, backTo: target === state.page ? state.backTo : state.page, detail: false, scroll: 0};
}

function select(state: ViewState, by: 1 | -1): ViewState {
	const facts = itemAt(state.gloves, state.focus);
	const {page} = state;
	if (page === 'keys' || page === 'checks' || (page === 'findings' && state.detail))
		return {...state, scroll: Math.max(0, state.scroll + by)};
	if (page === 'findings') return {...state, finding: neighbour(facts.findings, state.finding, by)};
	return page === 'link' ? state : {...state, channel: neighbour(facts.channels, state.channel, by)};
}

function open(state: ViewState): ViewState {
	const {channel, pinned, page} = state;
	const [listed = null] = itemAt(state.gloves, state.focus).findings;
	const finding = state.finding ?? listed;
	if (page === 'findings') return finding === null ? state : {...state, finding, detail: !state.detail, scroll: 0};
	if (page === 'trend') {
		if (channel === null) return state;
		return {
			...state,
			pinned: pinned.includes(channel) ? pinned.filter(name => name !== channel) : [...pinned, channel].slice(-3),
		};
	}

	if (page !== 'overview' && (page !== 'bench' || state.offered)) return state;
	if (channel !== null) return toPage(state, 'trend');
	return listed === null ? state : {...toPage(state, 'findings'), finding: listed, detail: true};
}

function withEntry(state: ViewState, change: (text: string) => string): ViewState {
	return state.entry === null ? state : {...state, entry: {...state.entry, text: change(state.entry.text)}};
}

/** A live trend goes back or on by a share of its width, and stays within what there is. */
function travelTrend(state: ViewState, share: number): ViewState {
	if (state.mode !== 'live') return state;
	const now = itemAt(state.gloves, state.focus).t;
	const end = (state.trendEnd ?? now) + share * state.trendSeconds;
	return {...state, trendEnd: end >= now ? null : Math.max(Math.min(state.trendSeconds, now), end)};
}

/** The entry beside the current one; from nowhere, the first. The ends hold. */
function neighbour(list: readonly string[], current: string | null, by: 1 | -1): string | null {
	const index = current === null ? -1 : list.indexOf(current);
	const beside = index < 0 ? 0 : Math.max(0, Math.min(list.length - 1, index + by));
	return list[beside] ?? null;
}

function stepIn(list: readonly number[], current: number, by: number): number {
	return itemAt(list, Math.max(0, Math.min(list.length - 1, list.indexOf(current) + by)));
}
