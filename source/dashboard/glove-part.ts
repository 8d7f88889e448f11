import type {Look} from '../screen/look.ts';
import {type Part, panel} from '../screen/part.ts';
import {shorten} from '../text/fit-text.ts';
import {alertRow} from './alert-row.ts';
import {assemblyRows} from './assembly-rows.ts';
import type {CatalogueEntry} from './finding-rows.ts';
import {findingsPage} from './findings-page.ts';
import type {GlovePicture} from './glove-picture.ts';
import {linkRows} from './link-rows.ts';
import {overviewPage} from './overview-page.ts';
import {linkRow, sourceRow} from './status-rows.ts';
import {stickPage} from './stick-page.ts';
import {trendRows} from './trend-rows.ts';
import type {ViewState} from './view-state.ts';

type Input = {
	readonly picture: GlovePicture;
	readonly view: ViewState;
	readonly index: number;
	readonly catalogue: (code: string) => CatalogueEntry | undefined;
	readonly width: number;
	readonly bodyHeight: number;
	readonly look: Look;
};

/** One glove: the three lines that are always there, and the page that was asked for. */
export function glovePart(input: Input): Part {
	const {picture, view, index, width, look} = input;
	const {glyphs} = look;
	const head = [
		sourceRow(picture, view, index, width, glyphs),
		linkRow(picture, width, glyphs),
		alertRow(picture, glyphs).map(piece => ({...piece, text: shorten(piece.text, width, glyphs.ellipsis)})),
	];
	return {down: [panel(head, width), pagePart(input)]};
}

function pagePart({picture, view, index, catalogue, width, bodyHeight, look}: Input): Part {
	const {glyphs} = look;
	switch (view.page) {
		case 'assembly':
			return panel(assemblyRows(picture, width, bodyHeight, glyphs), width, bodyHeight);
		case 'trend':
			return panel(trendRows(picture, width, bodyHeight, glyphs, true), width, bodyHeight);
		case 'findings': {
			// The other glove of two has no selection of its own.
			const ownView = index === view.focus ? view : {...view, finding: null, detail: false, scroll: 0};
			return findingsPage({picture, view: ownView, catalogue, width, height: bodyHeight, look});
		}

		case 'link':
			return panel(linkRows(picture.steady, width, bodyHeight, glyphs), width, bodyHeight);
		case 'stick':
			return stickPage({picture, width, height: bodyHeight, look});
		default:
			return overviewPage({picture, selected: view.channel, width, height: bodyHeight, look});
	}
}
