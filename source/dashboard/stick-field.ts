import {itemAt} from '../item-at.ts';
import type {Glyphs} from '../screen/look.ts';
import {type Piece, type Row, row} from '../screen/rows.ts';
import type {ChannelView, Snapshot, StickView} from '../session/snapshot.ts';
import {stateMark, stateTone} from './channel-rows.ts';
import {barScale} from './format-bar.ts';
import {formatCounts} from './format-number.ts';

/** Names of the eight directions of `StickView.reach`, in counts: `x+` is towards more counts of x. */
const reachDirections = ['x+', 'x+ y+', 'y+', 'x- y+', 'x-', 'x- y-', 'y-', 'x+ y-'] as const;

/**
 * A stick's field, `height` rows of `2 × height − 1` columns: a terminal's cell is about twice as high as wide, so that
 * the same throw is the same length on screen in every direction. More counts are to the right and up. Drawn are the
 * dead zone around the rest point, how far each direction was reached, and where the stick is now.
 */
export function drawStickField(
	stick: StickView,
	x: ChannelView,
	y: ChannelView,
	height: number,
	glyphs: Glyphs,
): Row[] {
	const rows = Math.max(3, height) - 2;
	const columns = fieldColumns(height) - 2;
	const field = Array.from({length: rows}, () => new Array<string>(columns).fill(' '));
	const scaleX = barScale(x);
	const scaleY = barScale(y);

	/** Puts a character at a share −1…1 of half scale from mid-scale; what lies outside goes to the border. */
	const put = (shareX: number, shareY: number, character: string) => {
		if (!Number.isFinite(shareX) || !Number.isFinite(shareY)) return;
		const column = Math.round(((clamp(shareX) + 1) / 2) * (columns - 1));
		const line = Math.round(((1 - clamp(shareY)) / 2) * (rows - 1));
		itemAt(field, line)[column] = character;
	};

	const shareX = (counts: number) => shareOfHalf(counts, scaleX);
	const shareY = (counts: number) => shareOfHalf(counts, scaleY);

	for (const [direction, share] of stick.reach.entries()) {
		const angle = (direction * Math.PI) / 4;
		if (share > 0.05) put(share * Math.cos(angle), share * Math.sin(angle), glyphs.reach);
	}

	if (stick.restX !== null && stick.restY !== null) {
		if (stick.deadZone !== null) {
			const radiusX = (2 * stick.deadZone) / (scaleX.high - scaleX.low);
			const radiusY = (2 * stick.deadZone) / (scaleY.high - scaleY.low);
			for (let step = 0; step < 64; step++) {
				const angle = (step * Math.PI) / 32;
				put(
					shareX(stick.restX) + radiusX * Math.cos(angle),
					shareY(stick.restY) + radiusY * Math.sin(angle),
					glyphs.deadZone,
				);
			}
		}

		put(shareX(stick.restX), shareY(stick.restY), glyphs.stickRest);
	}

	put(shareX(x.now), shareY(y.now), glyphs.stickNow);

	const [topLeft, topRight, bottomLeft, bottomRight, across, down] = glyphs.frame;
	const edge = (label: string) => {
		const left = Math.floor((columns - label.length) / 2);
		return across.repeat(left) + label + across.repeat(columns - left - label.length);
	};

	return [
		row(topLeft + edge('y+') + topRight, 'faint'),
		...field.map((line): Row => [{text: down, tone: 'faint'}, {text: line.join('')}, {text: down, tone: 'faint'}]),
		row(bottomLeft + edge('') + bottomRight, 'faint'),
	];
}

/** Columns of a field of so many rows. */
export function fieldColumns(height: number): number {
	return 2 * Math.max(3, height) - 1;
}

/** Cells of an axis in one line. */
const axisCells = 9;

/** The stick in one line: where each axis is, its reading and rest point, and its state. */
export function stickLine(stick: StickView, x: ChannelView, y: ChannelView, snapshot: Snapshot, glyphs: Glyphs): Row {
	const rest = stick.restX === null ? 'rest -' : `rest ${formatCounts(stick.restX)} ${formatCounts(stick.restY)}`;
	const axis = (channel: ChannelView): Piece[] => {
		const cells = glyphs.beyond.repeat(axisCells);
		const share = (shareOfHalf(channel.now, barScale(channel)) + 1) / 2;
		const place = Number.isFinite(share) ? Math.round(Math.max(0, Math.min(1, share)) * (axisCells - 1)) : 0;
		return [
			{text: cells.slice(0, place), tone: 'faint'},
			{text: glyphs.full},
			{text: cells.slice(place + 1), tone: 'faint'},
		];
	};
	const state = (channel: ChannelView): Piece => ({
		text: `  ${stateMark(channel, glyphs)} ${channel.state}`,
		tone: stateTone(channel, snapshot),
	});
	return [
		{text: 'stick   x '},
		...axis(x),
		{text: '  y '},
		...axis(y),
		{text: `  ${formatCounts(x.now).padStart(4)} ${formatCounts(y.now).padStart(4)} ${rest}`},
		state(x),
		...(x.state === y.state ? [] : [state(y)]),
	];
}

/** How far each direction was reached, in percent of half scale, each beside its opposite. */
export function reachRows(stick: StickView): Row[] {
	const cell = (index: number): Row => {
		const share = stick.reach[index] ?? 0;
		// The limit of the finding stick-short-throw.
		const short = share > 0 && share <= 0.6;
		return [
			{text: `${itemAt(reachDirections, index).padEnd(6)}${String(Math.round(share * 100)).padStart(4)} %`},
			{text: short ? ' short ' : '       ', tone: 'strong'},
		];
	};
	return [0, 1, 2, 3].map(index => [...cell(index), ...cell(index + 4)]);
}

const clamp = (share: number) => Math.max(-1, Math.min(1, share));

function shareOfHalf(counts: number, scale: {readonly low: number; readonly high: number}): number {
	return (2 * (counts - scale.low)) / (scale.high - scale.low || 1) - 1;
}
