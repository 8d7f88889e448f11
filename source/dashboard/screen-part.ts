import {itemAt} from '../item-at.ts';
import type {Look} from '../screen/look.ts';
import {type Part, panel} from '../screen/part.ts';
import {type Row, row} from '../screen/rows.ts';
import {escapeText} from '../text/escape-text.ts';
import {wrapText} from '../text/fit-text.ts';
import type {CatalogueEntry} from './finding-rows.ts';
import {glovePart} from './glove-part.ts';
import type {GlovePicture} from './glove-picture.ts';
import {keyLine, keyPage} from './key-line.ts';
import {positionRow} from './position-bar.ts';
import {headRows, layoutScreen, smallestScreen} from './screen-layout.ts';
import type {ViewState} from './view-state.ts';

export type ScreenInput = {
	readonly gloves: readonly GlovePicture[];
	readonly view: ViewState;
	/** Size of the terminal. */
	readonly columns: number;
	readonly rows: number;
	readonly look: Look;
	/** What the catalogue of findings says of a code. */
	readonly catalogue: (code: string) => CatalogueEntry | undefined;
};

/** The whole screen. */
export function screenPart(input: ScreenInput): Part {
	const {gloves, view, columns, rows, look, catalogue} = input;
	const layout = layoutScreen(columns, rows, view);
	const {glyphs} = look;
	if (layout.tooSmall) {
		const {columns: least, rows: leastRows} = smallestScreen;
		const words = `glovebench needs ${least} x ${leastRows}, this is ${columns} x ${rows}. Make it larger. q quits.`;
		const width = Math.max(1, layout.width);
		const lines = wrapText(words, width).slice(0, Math.max(1, layout.height));
		return panel(
			lines.map(line => row(line)),
			width,
		);
	}

	const position = gloves[view.focus]?.position ?? null;
	const foot: Row[] = [
		...(view.mode === 'replay' ? [position ? positionRow(position, layout.width, glyphs) : row('')] : []),
		footRow(view, gloves[view.focus]?.notice ?? null, layout.width),
	];
	const pageHeight = headRows + layout.bodyHeight;
	const wall = panel(
		Array.from({length: pageHeight}, () => row(glyphs.wall, 'faint')),
		1,
	);
	const page: Part =
		view.page === 'keys'
			? keysPart(view, layout.width, pageHeight, look)
			: {
					across: layout.shown.flatMap((index, place) => [
						...(place > 0 ? [wall] : []),
						glovePart({
							picture: itemAt(gloves, index),
							view,
							index,
							catalogue,
							width: layout.gloveWidth,
							bodyHeight: layout.bodyHeight,
							look,
						}),
					]),
				};
	return {down: [page, panel(foot, layout.width)]};
}

/** What is being typed; what the last key came to; else the keys. */
function footRow(view: ViewState, notice: string | null, width: number): Row {
	if (view.entry !== null) return entryRow(view.entry);
	return notice === null ? keyLine(view, width) : row(` ${escapeText(notice)}`, 'strong');
}

function entryRow({what, text}: NonNullable<ViewState['entry']>): Row {
	const does = what === 'mark' ? 'enter keeps it, esc drops it' : 'enter goes there, esc stays';
	return [{text: ` ${what}: `, tone: 'strong'}, {text: `${text}_`}, {text: `   ${does}`, tone: 'quiet'}];
}

function keysPart(view: ViewState, width: number, height: number, look: Look): Part {
	const rows = keyPage(view);
	if (rows.length > height && width >= 110) {
		const half = Math.floor(width / 2);
		return {across: [panel(rows.slice(0, height), half, height), panel(rows.slice(height), width - half, height)]};
	}

	const scroll = Math.max(0, Math.min(view.scroll, rows.length - height));
	const shown = rows.slice(scroll, scroll + height);
	if (scroll + height < rows.length)
		shown[height - 1] = [{text: ` ${look.glyphs.ellipsis} more with down`, tone: 'quiet'}];
	return panel(shown, width, height);
}
