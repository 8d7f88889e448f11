import type {Look} from '../screen/look.ts';
import {type Part, panel} from '../screen/part.ts';
import {shorten} from '../text/fit-text.ts';
import {alertRow} from './alert-row.ts';
import {benchPage} from './bench-page.ts';
import {checksPage} from './checks-page.ts';
import type {CatalogueEntry} from './finding-rows.ts';
import {findingsPage} from './findings-page.ts';
import type {GlovePicture} from './glove-picture.ts';
import {linkRows} from './link-rows.ts';
import {overviewPage} from './overview-page.ts';
import {statusRow, verdictRow} from './status-rows.ts';
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

/** One glove: the two lines that are always there, and the page that was asked for. */
export function glovePart(input: Input): Part {
	const {picture, view, index, width, bodyHeight, catalogue, look} = input;
	const {glyphs} = look;
	const status = statusRow(picture, view, index, width, glyphs);
	if (view.page === 'bench') {
		const selected = index === view.focus ? view.channel : null;
		return {
			down: [panel([status], width), benchPage({picture, selected, catalogue, width, height: bodyHeight + 1, look})],
		};
	}

	const alert = alertRow(picture)?.map(piece => ({...piece, text: shorten(piece.text, width, glyphs.ellipsis)}));
	return {down: [panel([status, alert ?? verdictRow(picture, width, glyphs)], width), pagePart(input)]};
}

function pagePart({picture, view, index, catalogue, width, bodyHeight, look}: Input): Part {
	const {glyphs} = look;
	const isFocus = index === view.focus;
	switch (view.page) {
		case 'trend':
			return panel(trendRows(picture, width, bodyHeight, glyphs, true), width, bodyHeight);
		case 'findings': {
			// The other glove of two has no selection of its own.
			const ownView = isFocus ? view : {...view, finding: null, detail: false, scroll: 0};
			return findingsPage({picture, view: ownView, catalogue, width, height: bodyHeight, look});
		}

		case 'checks':
			return checksPage(picture.live, isFocus ? view.scroll : 0, width, bodyHeight, glyphs);
		case 'link':
			return panel(linkRows(picture.steady, width, bodyHeight, glyphs), width, bodyHeight);
		case 'stick':
			return stickPage({picture, width, height: bodyHeight, look});
		default:
			return overviewPage({picture, selected: view.channel, catalogue, width, height: bodyHeight, look});
	}
}
