import type {Glyphs} from '../screen/look.ts';
import {type Row, row} from '../screen/rows.ts';
import type {Snapshot} from '../session/snapshot.ts';
import {escapeText} from '../text/escape-text.ts';
import {wrapText} from '../text/fit-text.ts';
import {formatBytes, formatMilliseconds, formatPercent, formatRate, formatTime} from './format-number.ts';
import {drawHistogram} from './interval-histogram.ts';

/** The link page: rate, intervals and their histogram, load, bad lines, what the stream looks like, what happened. */
export function linkRows(snapshot: Snapshot, width: number, height: number, glyphs: Glyphs): Row[] {
	const {link, layout, events, marks} = snapshot;
	const dash = glyphs.dash;
	const ms = (value: number | undefined) => formatMilliseconds(value ?? null, dash);
	const rows: Row[] = [
		row(
			` rate     ${formatRate(link.recentFramesPerSecond, dash)} frames/s now, ${formatRate(link.framesPerSecond, dash)} on the whole; ${link.frames} frames, ${formatBytes(link.bytes)}`,
		),
		row(
			` interval median ${ms(link.intervalMs?.median)}, 95 % ${ms(link.intervalMs?.p95)}, 99 % ${ms(link.intervalMs?.p99)}, most ${ms(link.intervalMs?.max)}`,
		),
		row(` jitter   ${formatMilliseconds(link.jitterMs, dash)} (RFC 3550)`),
		row(` load     ${loadText(snapshot, glyphs)}`),
		row(` bad      ${link.badLines} lines, stray ${link.strayLines}`),
		...(link.lastBadLine === null ? [] : [row(` last bad ${link.lastBadLine}`, 'strong')]),
		...wrapText(layoutText(snapshot), width - 11).map((line, index) =>
			row(`${index === 0 ? ' layout   ' : '          '}${line}`),
		),
		row(''),
	];

	const happened = [
		...events.map(event => ({t: event.t, text: `${event.event}${event.detail ? `: ${event.detail}` : ''}`})),
		...marks.map(mark => ({t: mark.t, text: `${glyphs.noteMark} ${mark.mark}`})),
	].sort((a, b) => b.t - a.t);
	const eventRoom = Math.min(happened.length + 1, Math.max(3, Math.floor((height - rows.length) / 2)));
	const chart = Math.max(3, Math.min(9, height - rows.length - eventRoom - 1));
	if (layout !== null) {
		rows.push(row(' frame intervals', 'quiet'));
		for (const line of drawHistogram(link.intervalHistogram, width - 2, chart - 1, glyphs))
			rows.push([{text: ' '}, ...line]);
	}

	rows.push(row(happened.length === 0 ? ' no events' : ' events and marks, newest first', 'quiet'));
	for (const {t, text} of happened.slice(0, Math.max(0, height - rows.length))) {
		rows.push(row(` ${formatTime(t).padStart(7)}  ${escapeText(text)}`));
	}

	return rows;
}

/** Columns of the load's bar. */
const loadColumns = 20;

function loadText({link}: Snapshot, glyphs: Glyphs): string {
	const bytes = link.bytesPerSecond === null ? glyphs.dash : `${formatBytes(link.bytesPerSecond)}/s`;
	if (link.lineLoad === null) return `${bytes}; no baud rate, so no share`;
	const filled = Math.round(Math.min(1, link.lineLoad) * loadColumns);
	return `${glyphs.full.repeat(filled)}${glyphs.beyond.repeat(loadColumns - filled)} ${formatPercent(link.lineLoad)} of the line, ${bytes}`;
}

function layoutText({layout}: Snapshot): string {
	if (layout === null) return 'not found out yet';
	const separator = layout.separator === null ? '' : ` ${JSON.stringify(layout.separator)}`;
	const names = layout.channels.map(channel => escapeText(channel.name)).join(' ');
	return `${layout.framing}${separator}${layout.labelled ? ', labelled' : ''}${layout.checksum ? `, ${layout.checksum}` : ''}: ${names}`;
}
