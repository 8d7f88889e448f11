import {scaleLinear} from 'd3-scale';
import type {Stretch} from '../../link/link-account.ts';
import {linkSentence, type NamedAccount, stretchCells, stretchHeads, stretchName} from '../../link/link-text.ts';
import {significant} from '../../text/round-figures.ts';
import {tool} from '../../version.ts';
import {publicName} from '../public-name.ts';
import {bottomAxis, chartWidth, leftAxis, svg, timeAxis, unit} from './axes.ts';
import {html, type Markup} from './markup.ts';
import {capitalized, pageText, section, verdictHeading} from './page-shell.ts';
import {textTable} from './text-table.ts';

const looks = {good: 'pass', weak: 'attention', bad: 'fail', unproven: 'unproven'} as const;

const height = 130;
const frame = {left: 38, right: chartWidth - 6, top: 16, bottom: height - 30};

/** A figure over the windows of a walk, a bar each; nothing where no window has one. */
function windowChart(
	label: string,
	windows: readonly Stretch[],
	value: (stretch: Stretch) => number | null,
): Markup | null {
	const values = windows.map(value);
	const [first, last] = [windows[0], windows.at(-1)];
	if (first === undefined || last === undefined || values.every(each => each === null)) return null;
	const {scale: x, labels} = timeAxis(first.from, last.to, frame);
	const most = Math.max(...values.map(each => each ?? 0));
	const y = scaleLinear()
		.domain([0, most > 0 ? most : 1])
		.nice()
		.range([frame.bottom, frame.top]);
	const bars = windows.map((stretch, i) => {
		const each = values[i] ?? null;
		if (each === null) return null;
		const [left, right] = [x(stretch.from), x(stretch.to)];
		const top = Math.min(y(each), frame.bottom - 0.5);
		return html`<rect class="bar" x="${unit(left)}" y="${unit(top)}" width="${unit(Math.max(1, right - left - 1))}" height="${unit(frame.bottom - top)}"><title>${significant(each, 3)}</title></rect>`;
	});
	return svg(height, `${label} over time`, [leftAxis(y, 3, frame), html`<g>${bars}</g>`, bottomAxis(labels, frame)]);
}

function part({name, account}: NamedAccount, id: string): (Markup | null)[] {
	const isMarked = account.stretches !== account.windows;
	const lost = windowChart('Frames lost, %', account.windows, ({lostPercent}) => lostPercent);
	const late = windowChart('Delay, 95th percentile, ms', account.windows, ({delayMs}) => delayMs?.p95 ?? null);
	return [
		section(
			publicName(name),
			id,
			html`<p>${linkSentence(account)}</p>`,
			lost && html`<figure>${lost}<figcaption>Frames lost in each window, %.</figcaption></figure>`,
			late &&
				html`<figure>${late}<figcaption>Delay beyond the quickest frame, 95th percentile of each window, ms.</figcaption></figure>`,
			textTable(
				'stretches',
				[isMarked ? 'stretch' : 'time', ...stretchHeads],
				account.stretches.map(stretch => [stretchName(stretch, isMarked), ...stretchCells(stretch)]),
			),
			account.notes.length > 0 ? html`<ul>${account.notes.map(note => html`<li>${note}</li>`)}</ul>` : null,
		),
	];
}

/** The account of a link, and of another beside it, as one self-contained page. */
export function linkPage(account: NamedAccount, other: NamedAccount | undefined): string {
	const {verdict} = account.account.whole;
	const word = verdict.toUpperCase();
	const sentence = linkSentence(account.account).replace(/^\w+: /, '');
	return pageText(
		`${word}: the link of ${publicName(account.name)}`,
		html`<header>
${verdictHeading(looks[verdict], word, capitalized(sentence))}
<p class="soft">Walk test with ${tool.name} ${tool.version}</p>
</header>
${part(account, 'link')}
${other === undefined ? null : part(other, 'other')}
${
	other === undefined
		? null
		: section(
				'Side by side',
				'both',
				textTable(
					'side by side',
					['source', ...stretchHeads],
					[account, other].map(each => [publicName(each.name), ...stretchCells(each.account.whole)]),
				),
			)
}`,
	);
}
