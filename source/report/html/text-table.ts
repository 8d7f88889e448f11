import {html, type Markup} from './markup.ts';

/** A table of text: the first column at the left, the others, which are numbers, at the right. Where it is too wide it scrolls, by keyboard too. */
export function textTable(label: string, heading: readonly string[], rows: readonly (readonly string[])[]): Markup {
	return html`<div class="wide" tabindex="0" role="group" aria-label="${label}"><table><tr>${heading.map((cell, i) => html`<th${right(i)}>${cell}</th>`)}</tr>${rows.map(
		row => html`<tr>${row.map((cell, i) => html`<td${right(i)}>${cell}</td>`)}</tr>`,
	)}</table></div>`;
}

function right(column: number): Markup | null {
	return column === 0 ? null : html` class="n"`;
}
