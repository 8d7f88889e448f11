import {itemAt} from '../item-at.ts';
import type {Piece, Row} from '../screen/rows.ts';
import {fitLeft} from '../text/fit-text.ts';
import {entriesFor, type KeyEntry} from './keys.ts';
import type {ViewState} from './view-state.ts';

/** The key line: what fits, in the table's order; `?` and `q` always. */
export function keyLine(state: ViewState, width: number): Row {
	const shown = entriesFor(state).filter(
		entry =>
			entry.brief !== undefined &&
			(entry.shownOn === undefined || entry.shownOn.includes(state.page)) &&
			!isOwnPage(entry, state),
	);
	const isLast = (entry: KeyEntry) => entry.label === '?' || entry.label === 'q';
	const last = shown.filter(isLast);
	// What belongs to this page alone is what its reader looks for.
	const rest = shown.filter(entry => !isLast(entry)).sort((a, b) => Number(!a.shownOn) - Number(!b.shownOn));
	let left = width - 1 - last.reduce((sum, entry) => sum + entryWidth(entry, state), 0);
	const taken: KeyEntry[] = [];
	for (const entry of rest) {
		if (entryWidth(entry, state) > left) continue;
		taken.push(entry);
		left -= entryWidth(entry, state);
	}

	const pieces: Piece[] = [{text: ' '}];
	for (const entry of [...taken, ...last]) {
		pieces.push({text: entry.label, tone: 'strong'}, {text: ` ${briefOf(entry, state)}  `});
	}

	return pieces;
}

function isOwnPage({group, message, keys}: KeyEntry, {page}: ViewState): boolean {
	const leads = group === 'pages' ? message(itemAt(keys, 0)) : undefined;
	return leads?.type === 'page' && leads.page === page;
}

function briefOf({brief}: KeyEntry, state: ViewState): string {
	return typeof brief === 'function' ? brief(state) : (brief ?? '');
}

function entryWidth(entry: KeyEntry, state: ViewState): number {
	return entry.label.length + 1 + briefOf(entry, state).length + 2;
}

const groupTitles: Readonly<Record<KeyEntry['group'], string>> = {
	pages: 'pages',
	selection: 'selection',
	time: 'trend',
	replay: 'replay',
	live: 'glove',
	bringup: 'bring-up',
	everywhere: 'everywhere',
};

/** The keys page: every key in this mode, under its group's title. */
export function keyPage(state: Pick<ViewState, 'mode' | 'gloves' | 'guided'>): Row[] {
	const entries = entriesFor(state);
	const rows: Row[] = [];
	for (const [group, title] of Object.entries(groupTitles)) {
		const members = entries.filter(entry => entry.group === group);
		if (members.length === 0) continue;
		rows.push([{text: title, tone: 'quiet'}]);
		for (const entry of members) {
			rows.push([{text: ` ${fitLeft(entry.label, 10)}`, tone: 'strong'}, {text: entry.help}]);
		}
	}

	return rows;
}
