import type {Glyphs} from '../screen/look.ts';
import {type Piece, type Row, rowWidth, spreadRow} from '../screen/rows.ts';
import {leftToProveText} from '../session/left-to-prove.ts';
import {escapeText} from '../text/escape-text.ts';
import {shorten} from '../text/fit-text.ts';
import {fixedText} from '../text/number-text.ts';
import {formatBytes, formatMilliseconds, formatPercent, formatRate, formatTime} from './format-number.ts';
import type {GlovePicture} from './glove-picture.ts';
import type {ViewState} from './view-state.ts';

/** Before so long a time has been seen a rate is a guess, seconds. */
const leastRateSeconds = 1;

/** Columns of the glove's name that figures don't take, as far as it is so long. */
const leastName = 16;

/**
 * First line: which glove, its link in figures, recording or not, held or not, which of two, since when. Figures give way
 * where there is no room, the last of them first.
 */
export function statusRow(picture: GlovePicture, view: ViewState, index: number, width: number, glyphs: Glyphs): Row {
	const {name, recording, steady} = picture;
	const right: Piece[] = [];
	if (recording !== null) {
		right.push(
			recording.error === null
				? {text: ` ${glyphs.recording} REC ${formatBytes(recording.bytes)} `, tone: 'failure'}
				: {text: ' NOT RECORDING ', tone: 'alert'},
		);
	}

	if (view.bell) right.push({text: ' bell'});
	if (view.mode === 'live' && view.held) right.push({text: ` ${glyphs.held} HELD `, tone: 'alert'});
	if (view.gloves.length > 1) {
		right.push({text: ` glove ${index + 1}/${view.gloves.length}`, tone: index === view.focus ? 'strong' : 'quiet'});
	}

	right.push({text: ` ${view.mode === 'live' ? 'live' : picture.kind} ${formatTime(steady.t)} `});
	let room = width - rowWidth(right) - 1;
	const figures: Piece[] = [];
	room -= Math.min(leastName, name.length);
	for (const figure of linkFigures(picture, glyphs)) {
		if (figure.text.length > room) break;
		figures.push(figure);
		room -= figure.text.length;
	}

	const nameWidth = Math.min(leastName, name.length) + Math.max(0, room);
	return spreadRow(
		[{text: ` ${shorten(escapeText(name), nameWidth, glyphs.ellipsis)}`, tone: 'strong'}, ...figures],
		right,
		width,
	);
}

/** What is known of the link, what matters most first. */
function linkFigures({steady: {link, layout}, baud, lateBy}: GlovePicture, glyphs: Glyphs): Piece[] {
	const {dash} = glyphs;
	if (layout === null) {
		return [
			{
				text:
					link.bytes === 0 ? '  nothing received yet' : `  ${formatBytes(link.bytes)} received, no frames in it yet`,
			},
		];
	}

	// Over the first second the frames of what was only begun are counted too few.
	const seen = link.framesPerSecond === null ? 0 : link.frames / link.framesPerSecond;
	const rate =
		seen < 2 * leastRateSeconds ? link.framesPerSecond : (link.recentFramesPerSecond ?? link.framesPerSecond);
	return [
		{text: `  ${formatRate(seen < leastRateSeconds ? null : rate, dash)}/s`},
		...(lateBy === null ? [] : [{text: `  ${fixedText(lateBy, 1)} s late`, tone: 'strong' as const}]),
		{text: `  bad ${link.badLines}`, ...(link.badLines > 0 && {tone: 'strong' as const})},
		...(link.strayLines > 0 ? [{text: `  stray ${link.strayLines}`}] : []),
		{text: `  jitter ${formatMilliseconds(link.jitterMs, dash)}`},
		...(baud === null ? [] : [{text: `  ${baud} Bd`}]),
		...(link.lineLoad === null ? [] : [{text: `  load ${formatPercent(link.lineLoad)}`}]),
	];
}

const words = {pass: 'PASS', unproven: 'UNPROVEN', attention: 'ATTENTION', fail: 'FAIL'} as const;
const tones = {pass: 'good', unproven: 'strong', attention: 'out-of-spec', fail: 'failure'} as const;

/** The verdict, what it rests on, and what is left to prove. */
export function verdictRow({live}: GlovePicture, width: number, glyphs: Glyphs): Row {
	if (live.layout === null) return [{text: ' Waiting for frames: is the board sending?', tone: 'strong'}];
	const word = words[live.verdict];
	const open = live.findings.filter(({to}) => to === null).length;
	const over = live.findings.length - open;
	const counts = [...(open > 0 ? [`${open} open`] : []), ...(over > 0 ? [`${over} over`] : [])].join(', ');
	const left = leftToProveText(live.channels);
	const notes = [...live.notes, ...(left === '' ? [] : [`not yet proven: ${left}`])].join('; ');
	const head = ` ${word}`;
	const rest = [...(counts ? [counts] : []), ...(notes ? [notes] : [])].join('   ');
	return [
		{text: head, tone: tones[live.verdict]},
		{text: shorten(`  ${rest || 'every channel is proven'}`, width - head.length, glyphs.ellipsis)},
	];
}
