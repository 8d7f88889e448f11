/** The dashboard's pages. */
export type Page = 'overview' | 'assembly' | 'trend' | 'findings' | 'link' | 'stick' | 'keys';

/** What the reducer has to know of a glove to move a selection about. */
export type GloveFacts = {
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
	| {readonly type: 'travel'; readonly by: number}
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
	| {readonly type: 'forget-ranges'}
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
	| {readonly type: 'facts'; readonly gloves: readonly GloveFacts[]}
	/** The player stopped at the end of the recording. */
	| {readonly type: 'played-out'};

/** Speeds of a replay, on the keys 1 to 9. */
export const speeds: readonly number[] = [0.1, 0.25, 0.5, 1, 2, 5, 10, 30, 100];

/** Widths of the trend in seconds, narrow to wide. */
export const trendWidths: readonly number[] = [0.5, 1, 2, 5, 10, 20, 60, 120, 300, 600, 1800, 3600];

/** A mark longer than a few lines of the screen helps nobody. */
const longestEntry = 200;

export function initialViewState(options: {
	readonly mode: 'live' | 'replay';
	readonly gloves: number;
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

/** The view after a message. Pure: what has to be done in the world is up to the dashboard's edge. */
export function reduceView(state: ViewState, message: Message): ViewState {
	switch (message.type) {
		case 'page':
			return toPage(state, message.page);
		case 'back':
			if (state.detail) return {...state, detail: false, scroll: 0};
			return state.page === 'overview' ? state : toPage(state, state.page === 'keys' ? state.backTo : 'overview');
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
		case 'other-glove':
			return {
				...state,
				focus: (state.focus + 1) % Math.max(1, state.gloves.length),
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
			return withFacts(state, message.gloves);
		case 'played-out':
			return {...state, held: true};
		default:
			return state;
	}
}

function toPage(state: ViewState, page: Page): ViewState {
	// A second `?` leads back to what was looked at; the other keys always lead to their page.
	const target = page === 'keys' && state.page === 'keys' ? state.backTo : page;
	return {...state, page: target, backTo: target === state.page ? state.backTo : state.page, detail: false, scroll: 0};
}

function select(state: ViewState, by: 1 | -1): ViewState {
	const facts = state.gloves[state.focus];
	if (state.page === 'keys' || (state.page === 'findings' && state.detail)) {
		return {...state, scroll: Math.max(0, state.scroll + by)};
	}

	if (state.page === 'findings') return {...state, finding: neighbour(facts.findings, state.finding, by)};
	return {...state, channel: neighbour(facts.channels, state.channel, by)};
}

function open(state: ViewState): ViewState {
	if (state.page === 'findings') {
		const finding = state.finding ?? state.gloves[state.focus].findings[0] ?? null;
		return finding === null ? state : {...state, finding, detail: !state.detail, scroll: 0};
	}

	if (state.page === 'trend') {
		const {channel, pinned} = state;
		if (channel === null) return state;
		return {
			...state,
			pinned: pinned.includes(channel) ? pinned.filter(name => name !== channel) : [...pinned, channel].slice(-3),
		};
	}

	return state.page === 'overview' ? toPage(state, 'trend') : state;
}

function withEntry(state: ViewState, change: (text: string) => string): ViewState {
	return state.entry === null ? state : {...state, entry: {...state.entry, text: change(state.entry.text)}};
}

function travelTrend(state: ViewState, seconds: number): ViewState {
	const now = state.gloves[state.focus].t;
	const end = (state.trendEnd ?? now) + seconds;
	return {...state, trendEnd: end >= now ? null : Math.max(Math.min(state.trendSeconds, now), end)};
}

function withFacts(state: ViewState, gloves: readonly GloveFacts[]): ViewState {
	const facts = gloves[state.focus];
	const channel = state.channel ?? facts?.channels[0] ?? null;
	return {...state, gloves, channel};
}

/** The entry beside the current one; from nowhere, the first. The ends hold. */
function neighbour(list: readonly string[], current: string | null, by: 1 | -1): string | null {
	if (list.length === 0) return null;
	const index = current === null ? -1 : list.indexOf(current);
	if (index < 0) return list[0];
	return list[Math.max(0, Math.min(list.length - 1, index + by))];
}

function stepIn(list: readonly number[], current: number, by: number): number {
	return list[Math.max(0, Math.min(list.length - 1, list.indexOf(current) + by))];
}
