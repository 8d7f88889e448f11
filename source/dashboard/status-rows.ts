import type {Glyphs} from '../screen/look.ts';
import {type Piece, type Row, spreadRow} from '../screen/rows.ts';
import {escapeText} from '../text/escape-text.ts';
import {shorten} from '../text/fit-text.ts';
import {formatBytes, formatMilliseconds, formatPercent, formatRate, formatTime} from './format-number.ts';
import type {GlovePicture} from './glove-picture.ts';
import type {ViewState} from './view-state.ts';

/** First line: which glove, since when, recording or not, held or not, which of two. */
export function sourceRow(picture: GlovePicture, view: ViewState, index: number, width: number, glyphs: Glyphs): Row {
	const {name, baud, recording, steady} = picture;
	const right: Piece[] = [];
	if (recording !== null) {
		right.push(
			recording.error === null
				? {text: ` ${glyphs.recording} REC ${formatBytes(recording.bytes)} `, tone: 'failure'}
				: {text: ' NOT RECORDING ', tone: 'alert'},
		);
	}

	if (view.mode === 'live' && view.held) right.push({text: ` ${glyphs.held} HELD `, tone: 'alert'});
	if (view.gloves.length > 1) {
		right.push({text: ` glove ${index + 1}/${view.gloves.length}`, tone: index === view.focus ? 'strong' : 'quiet'});
	}

	right.push({text: ` ${view.mode === 'live' ? 'live' : picture.kind} ${formatTime(steady.t)} `});
	const room = width - right.reduce((sum, piece) => sum + piece.text.length, 0);
	const speed = baud === null ? '' : `  ${baud} Bd`;
	return spreadRow(
		[
			{text: ` ${shorten(escapeText(name), Math.max(8, room - 2 - speed.length), glyphs.ellipsis)}`, tone: 'strong'},
			{text: speed},
		],
		right,
		width,
	);
}

/** Second line: the link in figures. */
export function linkRow(picture: GlovePicture, width: number, glyphs: Glyphs): Row {
	const {link, layout, verdict} = picture.steady;
	const dash = glyphs.dash;
	if (layout === null)
		return [
			{
				text: ` ${link.bytes === 0 ? 'nothing received yet' : `${formatBytes(link.bytes)} received, no frames in it yet`}`,
			},
		];
	const rate = link.recentFramesPerSecond ?? link.framesPerSecond;
	const wide = width >= 72;
	const left: Row = [
		{text: ` ${formatRate(rate, dash)}`, tone: 'strong'},
		{text: ` ${wide ? 'frames/s' : 'fr/s'}  jitter `},
		{text: formatMilliseconds(link.jitterMs, dash)},
		{text: '  bad '},
		{text: String(link.badLines), tone: link.badLines > 0 ? 'strong' : 'plain'},
		...(link.strayLines > 0 ? [{text: `  stray ${link.strayLines}`}] : []),
		...(picture.lateBy === null ? [] : [{text: `  ${picture.lateBy.toFixed(1)} s late`, tone: 'strong' as const}]),
		...(link.lineLoad === null ? [] : [{text: `  load ${formatPercent(link.lineLoad)}`}]),
	];
	const word = {pass: 'pass', unproven: 'unproven', attention: 'attention', fail: 'FAIL'}[verdict];
	const tone = ({pass: 'good', unproven: 'strong', attention: 'out-of-spec', fail: 'failure'} as const)[verdict];
	return spreadRow(left, [{text: ` ${word} `, tone}], width);
}
