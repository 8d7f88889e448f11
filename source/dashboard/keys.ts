import {itemAt} from '../item-at.ts';
import type {KeyName} from '../screen/key-name.ts';
import {type Message, type Page, speeds, type ViewState} from './view-state.ts';

/** One line of the key map: what the screen's key line, the keys page and docs/dashboard.md are drawn from. */
export type KeyEntry = {
	readonly keys: readonly KeyName[];
	/** How the key is written. */
	readonly label: string;
	/** One or two words for the key line; entries without it are only on the keys page. */
	readonly brief?: string | ((state: ViewState) => string);
	readonly help: string;
	readonly group: 'pages' | 'everywhere' | 'selection' | 'time' | 'replay' | 'live' | 'bringup';
	/** Where it does something; everywhere, if left out. */
	readonly where?: 'live' | 'replay' | 'bringup';
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

const selected = ({channel}: ViewState) => channel ?? 'selected';

/**
 * One table for all screens: a key means one thing everywhere, capitals differ from small letters. Order is that of the
 * keys page; the key line takes what fits, from the top.
 */
export const keyTable: readonly KeyEntry[] = [
	{
		keys: ['x'],
		label: 'x',
		brief: 'skip',
		shownOn: ['bench'],
		help: 'skips what is asked for',
		group: 'bringup',
		where: 'bringup',
		message: () => ({type: 'guide', what: 'skip'}),
	},
	{
		keys: ['u'],
		label: 'u',
		brief: 'again',
		shownOn: ['bench'],
		help: 'undoes: the step once more, or the one before',
		group: 'bringup',
		where: 'bringup',
		message: () => ({type: 'guide', what: 'again'}),
	},
	{
		keys: ['enter'],
		label: 'enter',
		brief: state => (state.offered ? 'crossed' : 'open'),
		shownOn: ['overview', 'bench', 'findings', 'trend'],
		help: 'opens what is selected, or what to do first; on the trend, adds the channel or takes it off; in a bring-up, says that the wires are crossed',
		group: 'selection',
		message: () => ({type: 'open'}),
	},
	{
		keys: ['space'],
		label: 'space',
		brief: state => (state.mode === 'live' || !state.held ? 'hold' : 'play'),
		shownOn: ['overview', 'trend', 'findings', 'link', 'stick', 'checks'],
		help: 'holds and goes on: live the picture only, data and recording go on; a replay plays and stops',
		group: 'everywhere',
		message: () => ({type: 'hold'}),
	},
	{
		keys: ['n'],
		label: 'n',
		brief: 'finding',
		help: 'goes to the next finding',
		group: 'replay',
		where: 'replay',
		message: () => ({type: 'to-finding', by: 1}),
	},
	{
		keys: ['z'],
		label: 'z',
		brief: state => `forget ${selected(state)}`,
		shownOn: ['overview', 'bench', 'stick'],
		help: 'forgets what was learned of the selected channel, after a repair: range, rest point, reach, presses, proof',
		group: 'live',
		where: 'live',
		message: () => ({type: 'forget', all: false}),
	},
	{
		keys: ['Z'],
		label: 'Z',
		brief: 'all',
		shownOn: ['bench'],
		help: 'forgets it of all channels',
		group: 'live',
		where: 'live',
		message: () => ({type: 'forget', all: true}),
	},
	{
		keys: ['b'],
		label: 'b',
		brief: state => (state.bell ? 'bell off' : 'bell on'),
		shownOn: ['bench'],
		help: 'bell on and off: one = proven or step done, two = lost or faulty',
		group: 'live',
		where: 'live',
		message: () => ({type: 'bell'}),
	},
	{keys: ['o'], label: 'o', brief: 'overview', help: 'overview: everything at a glance', ...page('overview')},
	{
		keys: ['a'],
		label: 'a',
		brief: 'bench',
		help: 'bench, for full hands: what comes next, what just moved, what is proven',
		...page('bench'),
	},
	{
		keys: ['f'],
		label: 'f',
		brief: 'findings',
		help: 'findings: evidence, and what to measure next',
		...page('findings'),
	},
	{
		keys: ['c'],
		label: 'c',
		brief: 'checks',
		help: 'checks: what could be judged, and the movement that is missing',
		...page('checks'),
	},
	{keys: ['t'], label: 't', brief: 'trend', help: 'trend of one channel or several', ...page('trend')},
	{keys: ['l'], label: 'l', brief: 'link', help: 'link: rate, jitter, bad lines, events', ...page('link')},
	{keys: ['s'], label: 's', brief: 'stick', help: 'stick and buttons in full', ...page('stick')},
	{
		keys: ['r'],
		label: 'r',
		brief: 'record',
		help: 'starts and stops recording to a file',
		group: 'live',
		where: 'live',
		message: () => ({type: 'record'}),
	},
	{
		keys: ['m'],
		label: 'm',
		brief: 'mark',
		help: 'makes a mark with a few words; kept in the recording',
		group: 'live',
		where: 'live',
		message: () => ({type: 'entry', what: 'mark'}),
	},
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
		keys: ['escape'],
		label: 'esc',
		help: 'one step back; takes the selection off',
		group: 'selection',
		message: () => ({type: 'back'}),
	},
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
		help: 'earlier: a quarter of the trend, 5 seconds of a replay',
		group: 'time',
		message: () => ({type: 'travel', by: -1}),
	},
	{
		keys: ['right'],
		label: 'right',
		help: 'later, by as much',
		group: 'time',
		message: () => ({type: 'travel', by: 1}),
	},
	{
		keys: ['page-up'],
		label: 'page up',
		help: 'earlier: a whole trend, a tenth of a replay',
		group: 'time',
		message: () => ({type: 'travel-far', by: -1}),
	},
	{
		keys: ['page-down'],
		label: 'page down',
		help: 'later, by as much',
		group: 'time',
		message: () => ({type: 'travel-far', by: 1}),
	},
	{keys: ['home'], label: 'home', help: 'the beginning', group: 'time', message: () => ({type: 'edge', edge: 'start'})},
	{
		keys: ['end'],
		label: 'end',
		help: 'now, or the end of a replay',
		group: 'time',
		message: () => ({type: 'edge', edge: 'end'}),
	},

	{
		keys: ['N'],
		label: 'N',
		help: 'goes back to the finding before',
		group: 'replay',
		where: 'replay',
		message: () => ({type: 'to-finding', by: -1}),
	},
	{
		keys: ['k'],
		label: 'k',
		help: 'goes to the next mark',
		group: 'replay',
		where: 'replay',
		message: () => ({type: 'to-mark', by: 1}),
	},
	{
		keys: ['K'],
		label: 'K',
		help: 'goes back to the mark before',
		group: 'replay',
		where: 'replay',
		message: () => ({type: 'to-mark', by: -1}),
	},
	{
		keys: ['w'],
		label: 'w',
		help: 'goes to when: a time you type, such as 12:30 or 90s',
		group: 'replay',
		where: 'replay',
		message: () => ({type: 'entry', what: 'time'}),
	},
	{
		keys: ['>'],
		label: '>',
		help: 'one frame on',
		group: 'replay',
		where: 'replay',
		message: () => ({type: 'step', by: 1}),
	},
	{
		keys: ['<'],
		label: '<',
		help: 'one frame back',
		group: 'replay',
		where: 'replay',
		message: () => ({type: 'step', by: -1}),
	},
	{
		keys: speeds.map((_, index) => String(index + 1)),
		label: '1 to 9',
		help: `speed: ${speeds.map(speed => `${speed}x`).join(' ')}`,
		group: 'replay',
		where: 'replay',
		message: key => ({type: 'speed', speed: itemAt(speeds, Number(key) - 1)}),
	},
	{
		keys: ['y'],
		label: 'y',
		help: 'cycles: starts again at the end',
		group: 'replay',
		where: 'replay',
		message: () => ({type: 'loop'}),
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

/**
 * What a key means here. While something is typed, keys are letters, and those without one mean nothing (undefined). A
 * key that has no meaning at all, or none here, is a message too: it is told so.
 */
export function messageForKey(key: KeyName, state: ViewState): Message | undefined {
	if (key === 'ctrl-c') return {type: 'interrupt'};
	if (state.entry !== null) {
		if (key === 'enter') return {type: 'entry-keep'};
		if (key === 'escape') return {type: 'entry-drop'};
		if (key === 'backspace') return {type: 'entry-erase'};
		if (key === 'space') return {type: 'entry-typed', text: ' '};
		return [...key].length === 1 ? {type: 'entry-typed', text: key} : undefined;
	}

	const entry = keyTable.find(({keys}) => keys.includes(key));
	if (entry === undefined) return {type: 'no-use', key, where: 'anywhere'};
	return isFor(entry, state) ? entry.message(key) : {type: 'no-use', key, where: entry.where ?? 'two'};
}

/** The entries that do something here. */
export function entriesFor(state: Pick<ViewState, 'mode' | 'gloves' | 'guided'>): readonly KeyEntry[] {
	return keyTable.filter(entry => isFor(entry, state));
}

function isFor({where, twoGloves}: KeyEntry, state: Pick<ViewState, 'mode' | 'gloves' | 'guided'>): boolean {
	if (twoGloves && state.gloves.length < 2) return false;
	if (where === 'bringup') return state.guided;
	return where === undefined || where === state.mode;
}
