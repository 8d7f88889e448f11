import type {SessionRun} from '../../session/run-session.ts';
import {figureText} from '../../text/number-text.ts';
import {publicName} from '../public-name.ts';
import {sourceKindText} from '../text-report.ts';
import {html, type Markup} from './markup.ts';

/** Where the stream came from, how it was understood, and what was declared about it. */
export function settingsPart({snapshot, session, info}: SessionRun): Markup {
	const {layout} = snapshot;
	const rows: readonly (readonly [string, string])[] = [
		['Source', `${publicName(info.name)} (${sourceKindText(info)})`],
		...(info.startedAt ? [['Recorded', info.startedAt] as const] : []),
		...(info.note ? [['Note', info.note] as const] : []),
		['Line', info.baud === null ? 'speed not known' : `${info.baud} baud`],
		[
			'Frames',
			layout
				? `${layout.framing}${layout.separator === null ? '' : `, separated by ${JSON.stringify(layout.separator)}`}${layout.labelled ? ', with labels' : ''}${layout.checksum ? `, ${layout.checksum}` : ''}`
				: 'no layout was found',
		],
		['Declared', declared(session.options)],
	];
	return html`<dl>${rows.map(([name, value]) => html`<dt>${name}</dt><dd>${value}</dd>`)}</dl>${
		snapshot.channels.length > 0 &&
		html`<div class="wide" tabindex="0" role="group" aria-label="Channels of the layout"><table><tr><th class="n">#</th><th>Channel</th><th>Role</th><th class="n">Full scale</th><th class="n">Low</th><th class="n">High</th><th class="n">Mean</th></tr>${snapshot.channels.map(
			({index, name, role, fullScale, min, max, mean}) =>
				html`<tr><td class="n">${index}</td><td>${name}</td><td>${role}</td><td class="n">${fullScale ?? '–'}</td><td class="n">${figureText(min)}</td><td class="n">${figureText(max)}</td><td class="n">${figureText(mean, 4)}</td></tr>`,
		)}</table></div>`
	}`;
}

function declared({fullScale, layout, targetRate, baud}: SessionRun['session']['options']): string {
	const parts = [
		baud ? `${baud} baud` : '',
		fullScale ? `full scale ${fullScale}` : '',
		layout ? `layout ${layout}` : '',
		targetRate ? `${targetRate} frames/s` : '',
	].filter(Boolean);
	return parts.length > 0 ? parts.join(', ') : 'nothing; found out from the stream';
}
