import type {Glyphs} from '../screen/look.ts';
import {type Part, panel} from '../screen/part.ts';
import {type Row, row} from '../screen/rows.ts';
import type {CheckRow, Snapshot} from '../session/snapshot.ts';
import {fitLeft, fitRight, shorten} from '../text/fit-text.ts';

const order = {found: 0, waiting: 1, clear: 2} as const;

/** Every check on every channel: whether it could be judged, chances seen of those needed, and what would give the next. */
export function checksPage(snapshot: Snapshot, scroll: number, width: number, height: number, glyphs: Glyphs): Part {
	const rows = [...snapshot.checks].sort((a, b) => order[a.state] - order[b.state]);
	const count = (state: CheckRow['state']) => rows.filter(each => each.state === state).length;
	const head = row(
		` ${count('found')} found, ${count('waiting')} waiting, ${count('clear')} clear; up and down scroll`,
		'quiet',
	);
	const first = Math.max(0, Math.min(scroll, rows.length - (height - 1)));
	return panel(
		[head, ...rows.slice(first, first + height - 1).map(each => checkRow(each, width, glyphs))],
		width,
		height,
	);
}

function checkRow({state, channel, code, seen, needed, next}: CheckRow, width: number, glyphs: Glyphs): Row {
	const mark = {found: '!', waiting: glyphs.open, clear: glyphs.done}[state];
	return [
		{text: ` ${mark} ${fitLeft(state, 8)}`, tone: state === 'found' ? 'failure' : state === 'clear' ? 'good' : 'plain'},
		{text: `${fitLeft(channel ?? 'link/all', 9, glyphs.ellipsis)} ${fitLeft(code, 18)}`},
		{text: `${fitRight(`${seen} of ${needed}`, 9)}  `, tone: 'quiet'},
		{text: shorten(next ?? '', width - 52, glyphs.ellipsis)},
	];
}
