import type {Glyphs} from '../screen/look.ts';
import type {Piece, Row, Tone} from '../screen/rows.ts';
import type {ChannelView, Finding, Snapshot} from '../session/snapshot.ts';
import {fitLeft, fitRight} from '../text/fit-text.ts';
import {barPieces, barReading, barScale} from './format-bar.ts';
import {formatCounts, formatNoise} from './format-number.ts';

/** Letters NAMUR NE 107 is usually drawn with: F failure, S out of specification, M maintenance, C function check. */
export const statusLetters = {failure: 'F', 'out-of-spec': 'S', maintenance: 'M', 'function-check': 'C'} as const;

/** Columns of a channel's row, from its width. Numbers go before the bar does: the bar is what is read from afar. */
type Columns = {readonly name: number; readonly bar: number; readonly seen: boolean; readonly span: boolean};

const pointerWidth = 2;
const nowWidth = 6;
const seenWidth = 12;
const spanWidth = 6;
const noiseWidth = 7;
const stateWidth = 12;

function columnsFor(width: number): Columns {
	const span = width >= 96;
	const seen = width >= 72;
	const name = width >= 72 ? 9 : 7;
	const numbers =
		pointerWidth + name + nowWidth + (seen ? seenWidth : 0) + (span ? spanWidth : 0) + noiseWidth + stateWidth;
	return {name, bar: Math.max(4, width - numbers), seen, span};
}

/** Head of the channel rows. */
export function channelHead(width: number, channels: readonly ChannelView[], glyphs: Glyphs): Row {
	const {name, bar, seen, span} = columnsFor(width);
	const scales = channels.map(barScale);
	const [first] = scales;
	const same = first !== undefined && scales.every(({low, high}) => high === first.high && low === first.low);
	const [left, right] = same ? [String(first.low), formatCounts(first.high)] : ['low', 'high'];
	const ruler = left + glyphs.rule.repeat(Math.max(1, bar - left.length - right.length)) + right;
	return [
		{
			text:
				' '.repeat(pointerWidth) +
				fitLeft('counts', name) +
				fitLeft(ruler, bar) +
				fitRight('now', nowWidth) +
				(seen ? fitRight('seen', seenWidth) : '') +
				(span ? fitRight('span', spanWidth) : '') +
				fitRight('rest', noiseWidth) +
				fitLeft('  state', stateWidth),
			tone: 'quiet',
		},
	];
}

/**
 * A channel in one line: pointer if it changed last, name, bar, now, seen range, noise at rest (rms counts), state.
 * `live` moves the bar; the numbers are those of `steady`.
 */
export function channelRow(
	live: ChannelView,
	steady: ChannelView,
	options: {
		readonly width: number;
		readonly glyphs: Glyphs;
		readonly changedLast: boolean;
		readonly selected: boolean;
		readonly snapshot: Snapshot;
	},
): Row {
	const {width, glyphs, changedLast, selected, snapshot} = options;
	const worst = worstOpen(snapshot, live.name);
	const {name, bar, seen, span} = columnsFor(width);
	const strong: Partial<Piece> = changedLast ? {tone: 'strong'} : {};
	const dash = glyphs.dash;
	const range =
		steady.span === null ? dash : `${formatCounts(steady.min, dash)}${dash}${formatCounts(steady.max, dash)}`;
	return [
		{text: (changedLast ? glyphs.pointer : ' ') + ' '.repeat(pointerWidth - 1), ...strong},
		{text: fitLeft(live.name, name - 1, glyphs.ellipsis), tone: selected ? 'chosen' : changedLast ? 'strong' : 'plain'},
		{text: ' '},
		...barPieces(barReading(live), bar, glyphs, barTone(live, worst)),
		{text: fitRight(formatCounts(steady.now, dash), nowWidth), ...strong},
		...(seen ? [{text: fitRight(range, seenWidth)}] : []),
		...(span ? [{text: fitRight(spanPercent(steady, dash), spanWidth)}] : []),
		{text: fitRight(steady.restNoise === null ? dash : glyphs.plusMinus + formatNoise(steady.restNoise), noiseWidth)},
		{text: '  '},
		...stateCell(live, options.snapshot, glyphs, stateWidth - 2),
	];
}

/** The same bar once more without numbers, to make it two rows thick where there is room. */
export function channelBarRow(live: ChannelView, width: number, glyphs: Glyphs, worst: Finding | undefined): Row {
	const {name, bar} = columnsFor(width);
	return [{text: ' '.repeat(pointerWidth + name)}, ...barPieces(barReading(live), bar, glyphs, barTone(live, worst))];
}

function stateCell(channel: ChannelView, snapshot: Snapshot, glyphs: Glyphs, width: number): Row {
	const worst = worstOpen(snapshot, channel.name);
	const letter =
		worst === undefined || channel.state === 'lost' || channel.state === 'open'
			? stateMark(channel, glyphs)
			: statusLetters[worst.status];
	const tone = worst === undefined || channel.state === 'open' ? stateTone(channel, snapshot) : worst.status;
	return [{text: fitLeft(`${letter} ${channel.state}`, width), tone: channel.state === 'lost' ? 'alert' : tone}];
}

/** How loud a state is where no finding says it: an open pin while wiring is nothing to look up for. */
const stateTones: Readonly<Record<ChannelView['state'], Tone>> = {
	proven: 'good',
	waiting: 'quiet',
	open: 'quiet',
	spare: 'quiet',
	learning: 'plain',
	faulty: 'failure',
	lost: 'alert',
};

/** How loud a channel's state is. */
export function stateTone(channel: ChannelView, snapshot: Snapshot): Tone {
	if (channel.state !== 'faulty') return stateTones[channel.state];
	return worstOpen(snapshot, channel.name)?.status ?? 'failure';
}

/** One character for a state, so that a list of channels can be looked over. */
export function stateMark({state}: ChannelView, {done, open, unwired}: Glyphs): string {
	return {proven: done, waiting: open, open: unwired, spare: ' ', learning: '~', faulty: '!', lost: '!'}[state];
}

function barTone(channel: ChannelView, worst: Finding | undefined): Tone {
	if (worst !== undefined) return worst.status;
	return channel.state === 'proven' ? 'good' : 'plain';
}

function spanPercent(channel: ChannelView, dash: string): string {
	if (channel.span === null) return dash;
	const {low, high} = barScale(channel);
	return `${Math.round((100 * channel.span) / (high - low || 1))} %`;
}

/** Channels that get a row with a bar: fingers, then whatever else is analog and no stick. */
export function barChannels(snapshot: Snapshot): readonly ChannelView[] {
	const fingers = snapshot.channels.filter(channel => channel.role === 'finger');
	const spares = snapshot.channels.filter(channel => channel.role === 'spare');
	return [...fingers, ...spares];
}

/** Channels a hand can move: what can be selected, and what the assembly page looks at. */
export function handChannels(snapshot: Snapshot): readonly ChannelView[] {
	return snapshot.channels.filter(channel => channel.role !== 'counter' && channel.role !== 'clock');
}

const severity = {failure: 3, 'out-of-spec': 2, maintenance: 1, 'function-check': 0} as const;

/** The open finding of a channel that matters most. */
export function worstOpen(snapshot: Snapshot, channel: string | null): Finding | undefined {
	let worst: Finding | undefined;
	for (const finding of snapshot.findings) {
		if (finding.channel !== channel || finding.to !== null) continue;
		if (worst === undefined || severity[finding.status] > severity[worst.status]) worst = finding;
	}

	return worst;
}
