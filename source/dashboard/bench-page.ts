import type {GuideView} from '../bringup/guide.ts';
import {blockLetters} from '../screen/block-letters.ts';
import type {Glyphs} from '../screen/look.ts';
import {type Part, panel} from '../screen/part.ts';
import {fitRow, type Piece, type Row, row, type Tone} from '../screen/rows.ts';
import type {ChannelView} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {fitLeft, fitRight, shorten, wrapText} from '../text/fit-text.ts';
import {alertRow, isPressing} from './alert-row.ts';
import {benchLead, type Lead, stillToWire} from './bench-lead.ts';
import {handChannels, stateMark, stateTone} from './channel-rows.ts';
import {doFirst, doFirstHeights, doFirstParts, fitDoFirst} from './do-first.ts';
import {barPieces, barReading} from './format-bar.ts';
import {formatCounts, formatNoise, formatRate} from './format-number.ts';
import type {GlovePicture} from './glove-picture.ts';
import {movesNow} from './moved-last.ts';
import type {FindingPageInput} from './page-input.ts';

/** `selected`: the channel that was chosen by name. */
type Input = FindingPageInput & {readonly selected: string | null};

/** What moved stays in large letters for so long before what comes next takes its place, seconds. */
const movedStaysSeconds = 4;

/** Rows of the head: where it stands, and what comes next or does not fit. */
const headHeight = 2;

/** Columns before what is asked for. */
const nextWidth = 7;

/** Letters, figures and bar. */
const leastBig = 7;

/** Letters of what comes next, under what moved, where there is room for both. */
const bothFrom = 16;

/** Columns of a channel's row in the table; two beside each other where they fit, else names with marks only. */
const tableColumn = 39;
const briefColumn = 19;

/**
 * The page for full hands: what comes next and what just moved, readable from a metre; all channels in the order of
 * building; what to do first. Assembling freely and the guided routine are two ways to lead it.
 */
export function benchPage(input: Input): Part {
	const {picture, catalogue, width, height, look} = input;
	const {glyphs} = look;
	const {live, guide} = picture;
	const lead = benchLead(live, picture.pulled);
	const first = doFirst(live, true);
	const parts = first.first === undefined ? undefined : doFirstParts(first, catalogue, width, glyphs);
	const ruled = height >= 18;
	let table = tableRows(input, lead, width >= 2 * tableColumn);
	const rules = ruled ? (parts === undefined ? 1 : 2) : 0;
	const wants = parts === undefined ? {least: 0, most: 0} : doFirstHeights(parts);
	const room = () => height - headHeight - table.length - rules - 1;
	if (room() - wants.least < leastBig - 1) table = tableRows(input, lead, false);
	const left = Math.max(0, room() - leastBig);
	const doFirstHeight = Math.min(wants.most, Math.max(left, Math.min(wants.least, room() - 1)));
	const bigHeight = Math.max(0, room() - doFirstHeight);
	const rule = row(glyphs.rule.repeat(width), 'faint');
	const wire = stillToWire(live);
	const foot: Row = [
		{
			text: shorten(
				wire.length > 0 ? ` still to wire (open: no fault): ${wire.join(', ')}` : '',
				width,
				glyphs.ellipsis,
			),
			tone: 'quiet',
		},
	];
	return panel(
		[
			...headRows(input, lead),
			...bigRows(input, lead, bigHeight),
			...(ruled ? [rule] : []),
			...table,
			...(ruled && parts !== undefined ? [rule] : []),
			...(parts === undefined ? [] : fitDoFirst(parts, doFirstHeight)),
			...(guide !== null && guide.last !== null && wire.length === 0
				? [row(shorten(` ${escapeText(guide.last)}`, width, glyphs.ellipsis), 'quiet')]
				: [foot]),
		],
		width,
		height,
	);
}

/** Where it stands; what comes next. What must not be missed takes their place. */
function headRows({picture, width, look: {glyphs}}: Input, lead: Lead): Row[] {
	const {guide} = picture;
	const hint = guide?.hint ?? null;
	const alert = hint === null || isPressing(picture) ? alertRow(picture, true) : undefined;
	if (alert !== undefined) {
		const cut = alert.map((piece): Piece => ({...piece, text: shorten(piece.text, width, glyphs.ellipsis)}));
		return [cut, nextRow(picture, lead, width, glyphs)];
	}

	if (hint !== null) {
		const [one, ...more] = wrapText(escapeText(hint), width - 2);
		const second =
			more.length === 0
				? nextRow(picture, lead, width, glyphs)
				: row(` ${shorten(more.join(' '), width - 1, glyphs.ellipsis)}`, 'alert');
		return [row(` ${one}`, 'alert'), second];
	}

	// On a narrow screen what is asked for takes both rows.
	if (guide !== null && !guide.isOver && guide.prompt.length > width - nextWidth) {
		const [one, ...more] = wrapText(`NEXT ${guide.step}/${guide.steps}  ${guide.prompt}`, width - 2);
		return [row(` ${one}`, 'strong'), row(` ${more.join(' ')}`, 'strong')];
	}

	return [whereRow(picture, lead, glyphs), nextRow(picture, lead, width, glyphs)];
}

/** How far the assembly or the bring-up is. */
function whereRow({live, guide}: GlovePicture, lead: Lead, glyphs: Glyphs): Row {
	if (live.layout === null) return row(' Waiting for frames: is the board sending?', 'strong');
	if (guide === null)
		return [
			{text: lead.isDone ? ' DONE' : ' ASSEMBLING', tone: lead.isDone ? 'good' : 'strong'},
			{text: `  ${lead.proven} of ${lead.all} proven`},
		];
	return [
		{text: guide.isOver ? ' DONE' : ' BRING-UP', tone: guide.isOver ? 'good' : 'strong'},
		{text: `  step ${Math.min(guide.step, guide.steps)} of ${guide.steps}`},
		...(guide.isOver || guide.need < 2 ? [] : [{text: `  ${boxes(guide.count, guide.need, glyphs)}`}]),
	];
}

function nextRow({guide, live}: GlovePicture, lead: Lead, width: number, glyphs: Glyphs): Row {
	if (live.layout === null) return [];
	if (guide?.isOver) return row(' All steps are done: q ends, and writes the sheet as built and the table.', 'strong');
	if (guide !== null)
		return [
			{text: ' NEXT  ', tone: 'strong'},
			{text: shorten(guide.prompt, width - nextWidth, glyphs.ellipsis), tone: 'strong'},
		];
	if (lead.isDone) return row(' Every channel is proven. Next: glovebench bringup, then glovebench fit.', 'strong');
	if (lead.next === undefined) return [];
	return [
		{text: ' NEXT  ', tone: 'strong'},
		{text: `${lead.next.name.toUpperCase()}: ${lead.what}`, tone: 'strong'},
	];
}

/** What stands in large letters, and what is said beside it. */
type Big = {
	readonly word: string;
	readonly label: string;
	readonly tone: Tone;
	readonly channel: ChannelView | undefined;
};

function bigRows(input: Input, lead: Lead, height: number): Row[] {
	const {picture, width, look} = input;
	const {glyphs} = look;
	const [one, other] = bigWords(picture, lead);
	const rows: Row[] = [];
	const both = other !== undefined && height >= bothFrom;
	const share = both ? Math.floor(height / 2) : height;
	for (const big of both ? [one, other] : [one]) {
		const own = bigOf(big, picture, width, share, glyphs);
		while (own.length < share) own.push([]);
		rows.push(...own.slice(0, share));
	}

	while (rows.length < height) rows.push([]);
	return rows;
}

/** What just moved while that is news, else what comes next; the other one second. */
function bigWords(picture: GlovePicture, lead: Lead): [Big, Big?] {
	const {live, guide, pulled} = picture;
	const channelNamed = (name: string | null | undefined) => live.channels.find(channel => channel.name === name);
	if (live.layout === null) return [{word: 'wait', label: 'no frame yet', tone: 'quiet', channel: undefined}];
	if (guide?.isOver || (guide === null && lead.isDone))
		return [{word: 'done', label: guide === null ? 'all proven' : 'all steps done', tone: 'good', channel: undefined}];
	const lost = live.channels.find(({state}) => state === 'lost');
	if (lost !== undefined) return [{word: lost.name, label: 'LOST', tone: 'failure', channel: lost}];
	const asked = guide?.asked ?? lead.next?.name ?? '';
	const next: Big = {word: asked, label: 'next', tone: 'strong', channel: channelNamed(asked)};
	const moved = channelNamed(guide?.moved ?? pulled);
	if (moved === undefined) return [next];
	const now = movesNow(moved, live);
	const label = now ? 'moves now' : 'just moved';
	const shown: Big = {word: moved.name, label, tone: now ? 'strong' : 'plain', channel: moved};
	if (guide?.moved != null) return [{...shown, tone: 'strong'}, next];
	if (moved.name === asked) return [{...next, label: now ? 'moves now' : 'next'}];
	const isNews = moved.movedItselfAt !== null && live.t - moved.movedItselfAt <= movedStaysSeconds;
	return guide === null && isNews ? [shown, next] : [next, shown];
}

function bigOf(
	{word, label, tone, channel}: Big,
	picture: GlovePicture,
	width: number,
	height: number,
	glyphs: Glyphs,
): Row[] {
	const {guide, steady} = picture;
	const figures = steady.channels.find(({name}) => name === channel?.name) ?? channel;
	// The bar gives way before the letters do.
	const hasBar = channel !== undefined && height >= leastBig;
	const extra = hasBar ? 2 : 1;
	const letters = blockLetters(word, width - 4, height - extra, glyphs.full);
	const rows: Row[] = letters.map(line => row(`  ${line}`, tone));
	const counted = guide !== null && guide.asked === channel?.name && guide.need > 1 ? guide : undefined;
	rows.push([
		{text: `  ${label}`, tone: 'strong'},
		...(figures === undefined ? [] : figuresOf(figures, counted, glyphs)),
	]);
	if (hasBar) rows.push(barOf(channel, width, glyphs));
	return rows;
}

function barOf(channel: ChannelView, width: number, glyphs: Glyphs): Row {
	if (channel.button === null) return [{text: '  '}, ...barPieces(barReading(channel), width - 4, glyphs)];
	const {pressed} = channel.button;
	return row(`  ${(pressed ? glyphs.full : glyphs.beyond).repeat(width - 4)}`, pressed ? 'strong' : 'faint');
}

function figuresOf(channel: ChannelView, guide: GuideView | undefined, glyphs: Glyphs): Piece[] {
	const {pulls, button, restNoise, now, min, max} = channel;
	const [seen, needed] = guide ? [guide.count, guide.need] : [pulls?.seen ?? 0, pulls?.needed ?? 0];
	const counted = needed === 0 ? '' : `   ${boxes(seen, needed, glyphs)}`;
	if (button !== null) return [{text: `${counted}   presses ${button.presses}   ${channel.state}`}];
	const range = `${formatCounts(min, glyphs.dash)}${glyphs.dash}${formatCounts(max, glyphs.dash)}`;
	const quiet = restNoise === null ? '' : `   quiet ${glyphs.plusMinus}${formatNoise(restNoise)}`;
	return [{text: `${counted}   ${fitRight(formatCounts(now, glyphs.dash), 5)} of ${range}${quiet}   ${channel.state}`}];
}

/** `■ □`: seen, and still asked for. */
function boxes(seen: number, needed: number, glyphs: Glyphs): string {
	return Array.from({length: needed}, (_, i) => (i < seen ? glyphs.pulled : glyphs.unpulled)).join(' ');
}

/** All channels in the order of building, fingers at the left; or names with marks where there is no room. */
function tableRows({picture, selected, width, look: {glyphs}}: Input, lead: Lead, isFull: boolean): Row[] {
	const {live, steady, guide, pulled} = picture;
	const channels = handChannels(live).filter(({role}) => role !== 'spare');
	const isNext = (name: string) => name === (guide === null ? lead.next?.name : guide.asked);
	const cell = (channel: ChannelView, columns: number): Row => {
		const figures = steady.channels[channel.index] ?? channel;
		const pointer = isNext(channel.name) ? glyphs.pointer : ' ';
		const tone = stateTone(channel, live);
		const name: Piece = {
			text: fitLeft(channel.name, 9, glyphs.ellipsis),
			tone: channel.name === selected ? 'chosen' : channel.name === pulled || isNext(channel.name) ? 'strong' : 'plain',
		};
		const answer = guide?.answers.get(channel.name);
		const state = answer ?? `${stateMark(channel, glyphs)} ${stateCell(channel)}`;
		const narrow = columns < tableColumn - 1;
		return fitRow(
			[
				{text: pointer, tone: 'strong'},
				name,
				{text: ` ${fitLeft(state, narrow ? columns - 11 : 10, glyphs.ellipsis)}`, tone},
				...(narrow ? [] : [{text: rangeCell(figures, glyphs)}]),
			],
			columns,
		);
	};

	const wall: Piece = {text: `${glyphs.wall} `, tone: 'faint'};
	if (isFull) {
		const left = channels.filter(({role}) => role === 'finger');
		const right = channels.filter(({role}) => role !== 'finger');
		const column = Math.floor((width - 2) / 2);
		const linkCell: Row = [{text: ' link      '}, {text: linkWord(picture, glyphs), tone: 'plain'}];
		return Array.from(
			{length: Math.max(left.length, right.length + 1)},
			(_, y): Row => [
				...(left[y] === undefined ? [{text: ' '.repeat(column)}] : cell(left[y], column)),
				wall,
				...(right[y] !== undefined ? cell(right[y], column) : y === right.length ? linkCell : []),
			],
		);
	}

	const perLine = Math.max(1, Math.floor(width / briefColumn));
	return Array.from({length: Math.ceil(channels.length / perLine)}, (_, line) =>
		channels.slice(line * perLine, (line + 1) * perLine).flatMap(channel => cell(channel, briefColumn)),
	);
}

function stateCell({state, pulls}: ChannelView): string {
	return state === 'waiting' && pulls !== null && pulls.seen > 0 ? `${pulls.seen} of ${pulls.needed}` : state;
}

function rangeCell(channel: ChannelView, glyphs: Glyphs): string {
	const {button, span, min, max, restNoise} = channel;
	if (button !== null) return channel.state === 'spare' ? '' : fitRight(`${button.presses}x`, 10);
	if (span === null) return '';
	const range = `${formatCounts(min, glyphs.dash)}${glyphs.dash}${formatCounts(max, glyphs.dash)}`;
	return fitRight(range, 10) + fitRight(restNoise === null ? '' : `${glyphs.plusMinus}${formatNoise(restNoise)}`, 7);
}

function linkWord({steady: {link, layout}}: GlovePicture, glyphs: Glyphs): string {
	if (layout === null) return glyphs.dash;
	const rate = `${formatRate(link.recentFramesPerSecond ?? link.framesPerSecond, glyphs.dash)}/s`;
	const lost = link.lost !== null && link.lost > 0 ? `, ${link.lost} lost` : '';
	return `${rate}, bad ${link.badLines}${lost}`;
}
