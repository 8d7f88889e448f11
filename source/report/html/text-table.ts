import {html, type Markup} from './markup.ts';

/** A table of text: the first column at the left, the others, which are numbers, at the right. Scrolls where it is too wide. */
export function textTable(heading: readonly string[], rows: readonly (readonly string[])[]): Markup {
	return html`<div class="wide"><table><tr>${heading.map((cell, i) => html`<th${right(i)}>${cell}</th>`)}</tr>${rows.map(
		row => html`<tr>${row.map((cell, i) => html`<td${right(i)}>${cell}</td>`)}</tr>`,
	)}</table></div>`;
}

function right(column: number): Markup | null {
	return column === 0 ? null : html` class="n"`;
}
