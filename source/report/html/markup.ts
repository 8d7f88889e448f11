import {escapeText} from '../../text/escape-text.ts';

/** Text that is markup already and is not escaped again: made by `html`, or a constant of this program. */
export class Markup {
	readonly text: string;

	constructor(text: string) {
		this.text = text;
	}
}

type Child = Markup | string | number | null | undefined | false | readonly Child[];

const entities: Readonly<Record<string, string>> = {
	'&': '&amp;',
	'<': '&lt;',
	'>': '&gt;',
	'"': '&quot;',
	"'": '&#39;',
};

/** Text as it may stand in HTML text and in quoted attributes; control and reordering characters are made visible. */
function escapeMarkup(text: string): string {
	return escapeText(text).replace(/[&<>"']/g, sign => entities[sign] ?? sign);
}

function render(child: Child): string {
	if (child === null || child === undefined || child === false) return '';
	if (child instanceof Markup) return child.text;
	if (typeof child === 'object') return child.map(render).join('');
	return escapeMarkup(String(child));
}

/**
 * HTML or SVG in a template literal. Whatever is put in is escaped, unless it is `Markup` itself; `null`, `undefined`
 * and `false` become nothing; lists are joined.
 *
 * @example
 * html`<p>${'<b>'}</p>`.text; // => '<p>&lt;b&gt;</p>'
 */
export function html(strings: TemplateStringsArray, ...children: Child[]): Markup {
	let [text = ''] = strings;
	for (const [index, child] of children.entries()) text += render(child) + strings[index + 1];
	return new Markup(text);
}
