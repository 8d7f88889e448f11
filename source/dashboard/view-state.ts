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

function changed(state: ViewState, message: Message): ViewState {
	switch (message.type) {
		case 'page':
			return toPage(state, message.page);
		case 'back':
			if (state.detail) return {...state, detail: false, scroll: 0};
			if (state.page === 'overview' || (state.page === 'bench' && state.guided)) return {...state, channel: null};
			return toPage(state, state.page === 'keys' ? state.backTo : homeOf(state));
		case 'select':
			return select(state, message.by);
		case 'open':
			return open(state);
		case 'travel':
			return state.mode === 'live' ? travelTrend(state, (message.by * state.trendSeconds) / 4) : state;
		case 'travel-far':
			return state.mode === 'live' ? travelTrend(state, message.by * state.trendSeconds) : state;
		case 'edge':
			if (state.mode === 'replay') return state;
			return message.edge === 'end' ? {...state, trendEnd: null} : {...state, trendEnd: state.trendSeconds};
		case 'zoom':
			return {...state, trendSeconds: stepIn(trendWidths, state.trendSeconds, -message.by)};
		case 'hold':
			return {...state, held: !state.held};
		case 'speed':
			return {...state, speed: message.speed};
		case 'step':
		case 'to-finding':
		case 'to-mark':
			// Whoever looks for a place wants to look at it.
			return state.mode === 'replay' ? {...state, held: true} : state;
		case 'loop':
			return {...state, loop: !state.loop};
		case 'bell':
			return {...state, bell: !state.bell};
		case 'other-glove':
			return {
				...state,
				focus: (state.focus + 1) % Math.max(1, state.gloves.length),
				channel: null,
				finding: null,
				detail: false,
				scroll: 0,
			};
		case 'entry':
			return {...state, entry: {what: message.what, text: ''}};
		case 'entry-typed':
			return withEntry(state, text => (text + message.text).slice(0, longestEntry));
		case 'entry-erase':
			return withEntry(state, text => [...text].slice(0, -1).join(''));
		case 'entry-keep':
		case 'entry-drop':
			return {...state, entry: null};
		case 'facts':
			return {...state, gloves: message.gloves, offered: message.offered};
		case 'played-out':
			return {...state, held: true};
		default:
			return state;
	}
}

function effectsOf(state: ViewState, message: Message, view: ViewState): readonly Effect[] {
	const isReplay = state.mode === 'replay';
	switch (message.type) {
		case 'travel':
			return isReplay ? [{do: 'seek', by: message.by * arrowSeconds}] : [];
		case 'travel-far':
			return isReplay ? [{do: 'seek-share', by: message.by / 10}] : [];
		case 'edge':
			return isReplay ? [{do: 'seek-edge', edge: message.edge}] : [];
		case 'step':
			return [{do: 'step', by: message.by}];
		case 'to-finding':
			return [{do: 'jump', to: 'finding', by: message.by}];
		case 'to-mark':
			return [{do: 'jump', to: 'mark', by: message.by}];
		case 'hold':
			return isReplay && state.held ? [{do: 'play-on'}] : [];
		case 'open':
			return state.offered && state.page === 'bench' ? [{do: 'guide', what: 'take'}] : [];
		case 'guide':
			return [{do: 'guide', what: message.what}];
		case 'bell':
			return [{do: 'say', text: view.bell ? `Bell on: ${bellMeaning}.` : 'Bell off.'}];
		case 'forget':
			if (!message.all && state.channel === null)
				return [{do: 'say', text: 'Select a channel first, with up and down. Z forgets all of them.'}];
			return [{do: 'forget', channel: message.all ? null : state.channel}];
		case 'record':
			return [{do: 'record'}];
		case 'entry-keep': {
			const text = state.entry?.text.trim() ?? '';
			if (text === '') return [];
			return [state.entry?.what === 'time' ? {do: 'go-to', text} : {do: 'mark', text}];
		}

		case 'no-use':
			return [noUse(message.key, notHere[message.where])];
		case 'quit':
			return [{do: 'leave', interrupted: false}];
		case 'interrupt':
			return [{do: 'leave', interrupted: true}];
		case 'suspend':
			return [{do: 'suspend'}];
		case 'redraw':
			return [{do: 'redraw'}];
		default:
			return [];
	}
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

function travelTrend(state: ViewState, seconds: number): ViewState {
	const now = itemAt(state.gloves, state.focus).t;
	const end = (state.trendEnd ?? now) + seconds;
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
