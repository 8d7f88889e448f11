import {blockLetters} from '../screen/block-letters.ts';
import type {Glyphs} from '../screen/look.ts';
import {type Row, row, type Tone} from '../screen/rows.ts';
import type {ChannelView, Snapshot} from '../session/snapshot.ts';
import {fitLeft, fitRight} from '../text/fit-text.ts';
import {changedLast, handChannels, stateMark, stateTones, worstOpen} from './channel-rows.ts';
import {barReading, formatBar} from './format-bar.ts';
import {formatCounts, formatNoise} from './format-number.ts';
import type {GlovePicture} from './glove-picture.ts';

/** Less travel than this share of full scale within half a second is noise or a trembling bench, not a pulled cord. */
export const movingShare = 0.02;

/** How much more than the channel shown another must travel to take its place: neighbours follow a moved finger. */
const takeOver = 1.5;

/**
 * The channel that is being moved: the one that travels most right now. While the one shown lately still moves, another
 * takes its place only if it clearly travels more, so that the large letters don't flicker when a whole hand moves.
 */
export function movingNow(snapshot: Snapshot, lately: string | null = null): ChannelView | undefined {
	let best: ChannelView | undefined;
	let shown: ChannelView | undefined;
	for (const channel of handChannels(snapshot)) {
		if (channel.activity < movingShare) continue;
		if (channel.activity > (best?.activity ?? 0)) best = channel;
		if (channel.name === lately) shown = channel;
	}

	return shown && best && best.activity < takeOver * shown.activity ? shown : best;
}

/**
 * The assembly page: the channel that moves, as large as the screen allows, with its bar and figures; under it one line
 * per channel that says what has been seen of it. When nothing moves, the one that moved last stays.
 */
export function assemblyRows(picture: GlovePicture, width: number, height: number, glyphs: Glyphs): Row[] {
	const {live, steady} = picture;
	const moving = movingNow(live, picture.pulled);
	const shown = moving ?? live.channels.find(({name}) => name === picture.pulled) ?? changedLast(live);
	const channels = handChannels(live);
	const perLine = Math.max(1, Math.floor((width - 1) / checkWidth));
	const checkLines = Math.min(Math.ceil(channels.length / perLine), Math.max(1, Math.floor(height / 3)));
	const room = height - checkLines - 1;
	const rows: Row[] = [];

	if (shown === undefined) {
		rows.push(
			row(''),
			row('  Pull one cord, push the stick or press a button:', 'strong'),
			row('  its name will stand here.', 'strong'),
		);
	} else {
		const letters = blockLetters(shown.name, width - 4, room - 4, glyphs.full);
		const barRows = Math.max(1, Math.min(thickestBar, room - letters.length - 2));
		rows.push(row(moving ? ' moves now' : ' moved last', moving ? 'strong' : 'quiet'));
		for (const line of letters) rows.push(row(`  ${line}`, moving ? 'strong' : 'quiet'));
		const figures = steady.channels.find(channel => channel.name === shown.name) ?? shown;
		rows.push(row(`  ${figuresOf(figures, glyphs)}`));
		if (shown.button === null) {
			const bar = formatBar(barReading(shown), width - 4, glyphs);
			for (let copy = 0; copy < barRows; copy++) rows.push(row(`  ${bar}`));
		} else {
			const block = shown.button.pressed ? glyphs.full.repeat(width - 4) : glyphs.beyond.repeat(width - 4);
			for (let copy = 0; copy < barRows; copy++) rows.push(row(`  ${block}`));
		}
	}

	while (rows.length < room) rows.push(row(''));
	rows.length = Math.max(0, room);
	rows.push(row(glyphs.rule.repeat(width), 'quiet'));
	for (let line = 0; line < checkLines; line++) {
		rows.push([
			{text: ' '},
			...channels
				.slice(line * perLine, (line + 1) * perLine)
				.flatMap(channel => checkCell(channel, live, shown, glyphs)),
		]);
	}

	return rows;
}

const checkWidth = 19;

/** Rows of the bar where there is room: about as high as the letters. */
const thickestBar = 6;

function checkCell(channel: ChannelView, snapshot: Snapshot, shown: ChannelView | undefined, glyphs: Glyphs): Row {
	const worst = worstOpen(snapshot, channel.name);
	const tone: Tone = worst ? worst.status : stateTones[channel.state];
	const state = channel.button ? `${channel.button.presses}x` : channel.state;
	return [
		{text: `${stateMark(channel, glyphs)} `, tone},
		{text: fitLeft(channel.name, 8, glyphs.ellipsis), tone: channel === shown ? 'strong' : tone},
		{text: fitLeft(` ${state}`, checkWidth - 10), tone},
	];
}

function figuresOf(channel: ChannelView, glyphs: Glyphs): string {
	const {button} = channel;
	if (button !== null) {
		return `${button.pressed ? 'in' : 'out'}   presses ${button.presses}   bounced ${button.bounces}`;
	}

	const noise = channel.restNoise === null ? '' : `   rest noise ${formatNoise(channel.restNoise)} rms`;
	return `${fitRight(formatCounts(channel.now), 5)} counts   seen ${formatCounts(channel.min)}${glyphs.dash}${formatCounts(channel.max)}${noise}   ${channel.state}`;
}
