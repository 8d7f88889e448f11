import {keyTable} from '../dashboard/keys.ts';
import {initialViewState, type Message} from '../dashboard/view-state.ts';
import {itemAt} from '../item-at.ts';
import type {KeyName} from '../screen/key-name.ts';

/** What the keys of all screens mean that mean something on the page of `mount`, too. */
const own: readonly Message['type'][] = ['guide', 'bell', 'quit', 'interrupt', 'suspend', 'redraw'];

const state = initialViewState({mode: 'live', gloves: 1, guided: true});

const entries = keyTable.flatMap(entry => {
	const message = entry.message(itemAt(entry.keys, 0));
	return own.includes(message.type) ? [{keys: entry.keys, label: entry.label, brief: entry.brief, message}] : [];
});

/** What a key means on this page; undefined where it does nothing. */
export function mountMessage(key: KeyName): Message | undefined {
	return entries.find(({keys}) => keys.includes(key))?.message;
}

/** The key line, in the words of all screens. */
export function mountKeyLine(bell: boolean): string {
	const shown = entries.flatMap(({label, brief}) =>
		brief === undefined ? [] : [`${label} ${typeof brief === 'function' ? brief({...state, bell}) : brief}`],
	);
	return ` ${shown.join('   ')}`;
}
