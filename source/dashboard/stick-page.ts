import {type Part, panel} from '../screen/part.ts';
import {type Row, row} from '../screen/rows.ts';
import {buttonHead, buttonRow, buttonWidths} from './button-rows.ts';
import {stateMark} from './channel-rows.ts';
import {formatCounts} from './format-number.ts';
import type {PageInput} from './page-input.ts';
import {drawStickField, fieldColumns, reachRows} from './stick-field.ts';

/** Columns the figures need: buttons with shortest press and bounces. */
const tableWidth = buttonWidths.full + 2;

/** Stick and buttons in full: the field as large as it goes, reach in eight directions, presses and bounces. */
export function stickPage({picture, width, height, look}: PageInput): Part {
	const {live, steady} = picture;
	const {glyphs} = look;
	const {stick} = live;
	const x = live.channels.find(channel => channel.name === stick?.x);
	const y = live.channels.find(channel => channel.name === stick?.y);
	const fieldHeight = Math.min(height, Math.floor((width - tableWidth) / 2));
	const rows: Row[] = [];
	if (stick && x && y) {
		const dash = glyphs.dash;
		const [steadyX, steadyY] = [steady.channels[x.index] ?? x, steady.channels[y.index] ?? y];
		rows.push(
			row(`${glyphs.stickNow} now    ${formatCounts(steadyX.now, dash)}, ${formatCounts(steadyY.now, dash)}`, 'strong'),
			row(`${glyphs.stickRest} rest   ${formatCounts(stick.restX, dash)}, ${formatCounts(stick.restY, dash)}`),
			row(`${glyphs.deadZone} dead zone ${formatCounts(stick.deadZone, dash)} counts`),
			row(`${stateMark(x, glyphs)} x ${x.state}   ${stateMark(y, glyphs)} y ${y.state}`),
			...(height >= 14 ? [row(`${glyphs.reach} reach, % of half scale`, 'quiet')] : []),
			...reachRows(stick),
		);
	} else {
		rows.push(row('no stick in this stream', 'quiet'));
	}

	const buttons = live.channels.filter(channel => channel.role === 'button');
	if (buttons.length > 0) {
		const full = buttonWidths.full;
		if (rows.length < height - buttons.length - 1) rows.push(row(''));
		rows.push(buttonHead(full), ...buttons.map(button => buttonRow(button, live, full, glyphs)));
	}

	const field = stick && x && y ? drawStickField(stick, x, y, fieldHeight, glyphs) : [];
	const fieldWidth = field.length > 0 ? fieldColumns(fieldHeight) + 3 : 1;
	return {
		across: [
			panel(
				field.map(line => [{text: ' '}, ...line]),
				fieldWidth,
				height,
			),
			panel(rows, width - fieldWidth, height),
		],
	};
}
