import {type Part, panel} from '../screen/part.ts';
import {type Row, row} from '../screen/rows.ts';
import {findingKey, findingPreview, findingRow, findingText, listedFindings} from './finding-rows.ts';
import type {FindingPageInput} from './page-input.ts';
import {freezeRows} from './trend-rows.ts';
import type {ViewState} from './view-state.ts';

type Input = FindingPageInput & {readonly view: ViewState};

/** Columns of the list where the selected finding stands beside it. */
const listWidth = 46;

/** Rows of the list above the selected finding, at least. */
const leastList = 4;

/** Rows of a finding's chart. */
const chartHeight = 9;

/** All findings, and the selected one in full: beside the list where there is room, else in its place. */
export function findingsPage({picture, view, catalogue, width, height, look}: Input): Part {
	const {glyphs} = look;
	const findings = listedFindings(picture.live);
	const selected = findings.find(finding => findingKey(finding) === view.finding) ?? findings[0];
	if (selected === undefined) {
		return panel(
			[row(' Nothing found.', 'strong'), row(' What is found will be listed here, with what to measure next.')],
			width,
			height,
		);
	}

	const beside = width >= 110;
	const detailWidth = beside ? width - listWidth - 1 : width;
	// The list follows the selection.
	const preview = beside ? [] : findingPreview(selected, width, height - leastList, glyphs);
	const listHeight = height - preview.length;
	const first = Math.max(0, findings.indexOf(selected) - listHeight + 2);
	const list: Row[] = [
		[{text: ' open first; up and down select, enter opens', tone: 'quiet'}],
		...findings
			.slice(first)
			.map(finding => findingRow(finding, beside ? listWidth : width, glyphs, finding === selected)),
	];
	const detail = () => {
		const text = findingText(selected, catalogue(selected.code), detailWidth - 1, glyphs);
		const chart = picture.freezeFrame
			? freezeRows(picture.freezeFrame, selected.from, detailWidth - 1, chartHeight, glyphs)
			: [];
		const rows = [...text.first, ...chart, ...text.rest];
		const scroll = Math.max(0, Math.min(view.scroll, rows.length - height));
		const cut = rows.slice(scroll, scroll + height);
		if (scroll + height < rows.length)
			cut[height - 1] = [{text: ` ${glyphs.ellipsis} more with ${beside ? 'enter, then ' : ''}down`, tone: 'quiet'}];
		return cut;
	};

	if (beside) {
		return {
			across: [
				panel(list, listWidth, height),
				panel(
					Array.from({length: height}, () => row(glyphs.wall, 'faint')),
					1,
				),
				panel(detail(), detailWidth, height),
			],
		};
	}

	if (view.detail) return panel(detail(), width, height);
	return {down: [panel(list, width, listHeight), panel(preview, width)]};
}
