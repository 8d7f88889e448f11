import {type Message, type Page, speeds, type ViewState} from './view-state.ts';

/** A key as the table names it: a character, or a word for keys without one. */
export type KeyName = string;

/** One line of the key map: what the screen's key line, the keys page and docs/dashboard.md are drawn from. */
export type KeyEntry = {
	readonly keys: readonly KeyName[];
	/** How the key is written. */
	readonly label: string;
	/** One or two words for the key line; entries without one are only on the keys page. */
	readonly brief?: string;
	readonly help: string;
	readonly group: 'pages' | 'everywhere' | 'selection' | 'time' | 'replay' | 'live';
	readonly mode?: 'live' | 'replay';
	/** Pages on which the key line shows it; all, if left out. It works on every page. */
	readonly shownOn?: readonly Page[];
	/** Only with more than one glove. */
	readonly twoGloves?: boolean;
	readonly message: (key: KeyName) => Message;
};

const page = (name: Page): Pick<KeyEntry, 'group' | 'message'> => ({
	group: 'pages',
	message: () => ({type: 'page', page: name}),
});

/** Order is that of the keys page; the key line takes what fits, from the top. */
export const keyTable: readonly KeyEntry[] = [
	{
		keys: ['space'],
		label: 'space',
		brief: 'hold',
		help: 'holds the picture; data and recording go on',
		group: 'live',
		mode: 'live',
		message: () => ({type: 'hold'}),
	},
	{
		keys: ['space'],
		label: 'space',
		brief: 'play',
		help: 'plays, holds',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'hold'}),
	},
	{
		keys: ['n'],
		label: 'n',
		brief: 'finding',
		help: 'goes to the next finding',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'to-finding', by: 1}),
	},
	{keys: ['o'], label: 'o', brief: 'overview', help: 'overview: everything at a glance', ...page('overview')},
	{
		keys: ['a'],
		label: 'a',
		brief: 'assembly',
		help: 'assembly: pull a cord, see which channel it is',
		...page('assembly'),
	},
	{keys: ['t'], label: 't', brief: 'trend', help: 'trend of one channel or several', ...page('trend')},
	{
		keys: ['f'],
		label: 'f',
		brief: 'findings',
		help: 'findings: evidence, and what to measure next',
		...page('findings'),
	},

	{
		keys: ['r'],
		label: 'r',
		brief: 'record',
		help: 'starts and stops recording to a file',
		group: 'live',
		mode: 'live',
		message: () => ({type: 'record'}),
	},
	{
		keys: ['m'],
		label: 'm',
		brief: 'mark',
		help: 'makes a mark with a few words; kept in the recording',
		group: 'live',
		mode: 'live',
		message: () => ({type: 'entry', what: 'mark'}),
	},
	{keys: ['l'], label: 'l', brief: 'link', help: 'link: rate, jitter, bad lines, events', ...page('link')},
	{keys: ['s'], label: 's', brief: 'stick', help: 'stick and buttons in full', ...page('stick')},
	{keys: ['?'], label: '?', brief: 'keys', help: 'this list', ...page('keys')},

	{
		keys: ['up'],
		label: 'up',
		help: 'selects the channel or finding above',
		group: 'selection',
		message: () => ({type: 'select', by: -1}),
	},
	{
		keys: ['down'],
		label: 'down',
		help: 'selects the channel or finding below',
		group: 'selection',
		message: () => ({type: 'select', by: 1}),
	},
	{
		keys: ['enter'],
		label: 'enter',
		brief: 'open',
		shownOn: ['findings'],
		help: 'opens what is selected; on the trend, adds the channel to the chart or takes it off',
		group: 'selection',
		message: () => ({type: 'open'}),
	},
	{keys: ['escape'], label: 'esc', help: 'one step back', group: 'selection', message: () => ({type: 'back'})},
	{
		keys: ['g'],
		label: 'g',
		brief: 'other glove',
		twoGloves: true,
		help: 'the other glove',
		group: 'selection',
		message: () => ({type: 'other-glove'}),
	},

	{
		keys: ['+', '='],
		label: '+',
		brief: 'closer',
		shownOn: ['trend'],
		help: 'trend: closer',
		group: 'time',
		message: () => ({type: 'zoom', by: 1}),
	},
	{
		keys: ['-'],
		label: '-',
		brief: 'wider',
		shownOn: ['trend'],
		help: 'trend: wider',
		group: 'time',
		message: () => ({type: 'zoom', by: -1}),
	},
	{
		keys: ['left'],
		label: 'left',
		help: 'trend: earlier',
		group: 'time',
		mode: 'live',
		message: () => ({type: 'travel', by: -1}),
	},
	{
		keys: ['right'],
		label: 'right',
		help: 'trend: later',
		group: 'time',
		mode: 'live',
		message: () => ({type: 'travel', by: 1}),
	},
	{
		keys: ['page-up'],
		label: 'page up',
		help: 'trend: a whole width earlier',
		group: 'time',
		mode: 'live',
		message: () => ({type: 'travel-far', by: -1}),
	},
	{
		keys: ['page-down'],
		label: 'page down',
		help: 'trend: a whole width later',
		group: 'time',
		mode: 'live',
		message: () => ({type: 'travel-far', by: 1}),
	},
	{
		keys: ['home'],
		label: 'home',
		help: 'trend: the beginning',
		group: 'time',
		mode: 'live',
		message: () => ({type: 'edge', edge: 'start'}),
	},
	{
		keys: ['end'],
		label: 'end',
		help: 'trend: now',
		group: 'time',
		mode: 'live',
		message: () => ({type: 'edge', edge: 'end'}),
	},

	{
		keys: ['b'],
		label: 'b',
		help: 'goes back to the finding before',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'to-finding', by: -1}),
	},
	{
		keys: ['k'],
		label: 'k',
		help: 'goes to the next mark',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'to-mark', by: 1}),
	},
	{
		keys: ['j'],
		label: 'j',
		help: 'goes back to the mark before',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'to-mark', by: -1}),
	},
	{
		keys: ['w'],
		label: 'w',
		help: 'goes to when: a time you type, such as 12:30 or 90s',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'entry', what: 'time'}),
	},
	{
		keys: ['left'],
		label: 'left',
		brief: '-5 s',
		help: '5 seconds back',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'travel', by: -5}),
	},
	{
		keys: ['right'],
		label: 'right',
		brief: '+5 s',
		help: '5 seconds on',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'travel', by: 5}),
	},
	{
		keys: ['page-up'],
		label: 'page up',
		help: 'a tenth of the recording back',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'travel-far', by: -1}),
	},
	{
		keys: ['page-down'],
		label: 'page down',
		help: 'a tenth of the recording on',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'travel-far', by: 1}),
	},
	{
		keys: ['home'],
		label: 'home',
		help: 'to the start',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'edge', edge: 'start'}),
	},
	{
		keys: ['end'],
		label: 'end',
		help: 'to the end',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'edge', edge: 'end'}),
	},
	{
		keys: ['>'],
		label: '>',
		help: 'one frame on',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'step', by: 1}),
	},
	{
		keys: ['<'],
		label: '<',
		help: 'one frame back',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'step', by: -1}),
	},
	{
		keys: speeds.map((_, index) => String(index + 1)),
		label: '1 to 9',
		help: `speed: ${speeds.map(speed => `${speed}x`).join(' ')}`,
		group: 'replay',
		mode: 'replay',
		message: key => ({type: 'speed', speed: speeds[Number(key) - 1]}),
	},
	{
		keys: ['y'],
		label: 'y',
		help: 'cycles: starts again at the end',
		group: 'replay',
		mode: 'replay',
		message: () => ({type: 'loop'}),
	},
	{
		keys: ['z'],
		label: 'z',
		brief: 'zero',
		shownOn: ['overview', 'assembly', 'stick'],
		help: 'forgets the ranges seen so far, after a repair',
		group: 'live',
		mode: 'live',
		message: () => ({type: 'forget-ranges'}),
	},

	{
		keys: ['ctrl-l'],
		label: 'ctrl-l',
		help: 'draws the screen afresh',
		group: 'everywhere',
		message: () => ({type: 'redraw'}),
	},
	{
		keys: ['ctrl-z'],
		label: 'ctrl-z',
		help: 'back to the shell for a while',
		group: 'everywhere',
		message: () => ({type: 'suspend'}),
	},
	{keys: ['q'], label: 'q', brief: 'quit', help: 'ends', group: 'everywhere', message: () => ({type: 'quit'})},
	{
		keys: ['ctrl-c'],
		label: 'ctrl-c',
		help: 'ends, with exit status 130',
		group: 'everywhere',
		message: () => ({type: 'interrupt'}),
	},
];

/** What a key means here, or undefined. While something is typed, keys are letters. */
export function messageForKey(key: KeyName, state: ViewState): Message | undefined {
	if (key === 'ctrl-c') return {type: 'interrupt'};
	if (state.entry !== null) {
		if (key === 'enter') return {type: 'entry-keep'};
		if (key === 'escape') return {type: 'entry-drop'};
		if (key === 'backspace') return {type: 'entry-erase'};
		if (key === 'space') return {type: 'entry-typed', text: ' '};
		return [...key].length === 1 ? {type: 'entry-typed', text: key} : undefined;
	}

	return entriesFor(state)
		.find(entry => entry.keys.includes(key))
		?.message(key);
}

/** The entries that count in this mode. */
export function entriesFor(state: Pick<ViewState, 'mode' | 'gloves'>): readonly KeyEntry[] {
	return keyTable.filter(
		entry => (entry.mode === undefined || entry.mode === state.mode) && (!entry.twoGloves || state.gloves.length > 1),
	);
}
