import type {Glyphs} from '../screen/look.ts';
import {type Row, row} from '../screen/rows.ts';
import type {ChannelView, Snapshot} from '../session/snapshot.ts';
import {fitLeft, fitRight} from '../text/fit-text.ts';
import {stateMark, stateTone} from './channel-rows.ts';
import {formatMilliseconds} from './format-number.ts';

/** Columns of a button's row in the narrow form, and in the one with shortest press and bounces. */
export const buttonWidths = {narrow: 20, full: 42} as const;

/** Head of the button rows. */
export function buttonHead(width: number): Row {
	const full = width >= buttonWidths.full;
	return row(
		`${fitLeft('buttons', 14)}${fitRight('presses', 7)}${full ? `${fitRight('shortest', 11)}${fitRight('bounced', 9)}` : ''}`,
		'quiet',
	);
}

/** A button: down or up, the mark of its state, presses, shortest press, presses that bounced. */
export function buttonRow(channel: ChannelView, snapshot: Snapshot, width: number, glyphs: Glyphs): Row {
	const button = channel.button;
	const down = button?.pressed ?? false;
	const full = width >= buttonWidths.full;
	return [
		{
			text: `${down ? glyphs.pressed : glyphs.released} ${fitLeft(channel.name, 9, glyphs.ellipsis)}`,
			tone: down ? 'strong' : 'plain',
		},
		{text: stateMark(channel, glyphs), tone: stateTone(channel, snapshot)},
		{text: down ? 'in' : '  ', tone: 'strong'},
		{text: fitRight(button ? String(button.presses) : glyphs.dash, full ? 8 : 6)},
		...(full
			? [
					{text: fitRight(formatMilliseconds(button?.shortestPressMs ?? null, glyphs.dash), 11)},
					{text: fitRight(button ? String(button.bounces) : glyphs.dash, 9)},
				]
			: []),
	];
}

/** All buttons in one line, for a small screen. */
export function buttonsLine(buttons: readonly ChannelView[], glyphs: Glyphs): Row {
	return buttons.flatMap(channel => {
		const down = channel.button?.pressed ?? false;
		const number = channel.name.replace(/^button-/, 'b');
		return [
			{
				text: ` ${number}${down ? glyphs.pressed : glyphs.released}`,
				tone: down ? ('strong' as const) : ('plain' as const),
			},
			{text: String(channel.button?.presses ?? 0)},
		];
	});
}
