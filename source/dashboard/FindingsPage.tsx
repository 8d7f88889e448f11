import {Box} from 'ink';
import {
	type CatalogueEntry,
	findingKey,
	findingPreview,
	findingRow,
	findingText,
	listedFindings,
} from './finding-rows.ts';
import type {GlovePicture} from './glove-picture.ts';
import type {Look} from './look.ts';
import {RowLines} from './RowLines.tsx';
import {type Row, row} from './rows.ts';
import {freezeRows} from './trend-rows.ts';
import type {ViewState} from './view-state.ts';

type Props = {
	readonly picture: GlovePicture;
	readonly view: ViewState;
	readonly catalogue: (code: string) => CatalogueEntry | undefined;
	readonly width: number;
	readonly height: number;
	readonly look: Look;
};

/** Columns of the list where the selected finding stands beside it. */
const listWidth = 46;

/** Rows of the selected finding under the list. */
const previewHeight = 5;

/** Rows of a finding's chart. */
const chartHeight = 9;

/** All findings, and the selected one in full: beside the list where there is room, else in its place. */
export function FindingsPage({picture, view, catalogue, width, height, look}: Props) {
	const {glyphs} = look;
	const findings = listedFindings(picture.live);
	const selected = findings.find(finding => findingKey(finding) === view.finding) ?? findings[0];
	if (selected === undefined) {
		return (
			<RowLines
				rows={[row(' Nothing found.', 'strong'), row(' What is found will be listed here, with what to measure next.')]}
				width={width}
				height={height}
				look={look}
			/>
		);
	}

	const beside = width >= 110;
	const detailWidth = beside ? width - listWidth - 1 : width;
	// The list follows the selection.
	const first = Math.max(0, findings.indexOf(selected) - height + (beside ? 2 : 7));
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

	if (!beside) {
		if (view.detail) return <RowLines rows={detail()} width={width} height={height} look={look} />;
		const preview = findingPreview(selected, width, glyphs);
		const listHeight = Math.max(3, height - previewHeight);
		return (
			<Box flexDirection="column">
				<RowLines rows={list} width={width} height={listHeight} look={look} />
				<RowLines rows={preview} width={width} height={height - listHeight} look={look} />
			</Box>
		);
	}

	return (
		<Box>
			<RowLines rows={list} width={listWidth} height={height} look={look} />
			<RowLines
				rows={Array.from({length: height}, () => [{text: glyphs.wall}])}
				width={1}
				height={height}
				look={look}
			/>
			<RowLines rows={detail()} width={detailWidth} height={height} look={look} />
		</Box>
	);
}
