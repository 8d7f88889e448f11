import {Box} from 'ink';
import {alertRow} from './alert-row.ts';
import {assemblyRows} from './assembly-rows.ts';
import {FindingsPage} from './FindingsPage.tsx';
import type {CatalogueEntry} from './finding-rows.ts';
import type {GlovePicture} from './glove-picture.ts';
import {linkRows} from './link-rows.ts';
import type {Look} from './look.ts';
import {OverviewPage} from './OverviewPage.tsx';
import {RowLines} from './RowLines.tsx';
import {StickPage} from './StickPage.tsx';
import {linkRow, sourceRow} from './status-rows.ts';
import {trendRows} from './trend-rows.ts';
import type {ViewState} from './view-state.ts';

type Props = {
	readonly picture: GlovePicture;
	readonly view: ViewState;
	readonly index: number;
	readonly catalogue: (code: string) => CatalogueEntry | undefined;
	readonly width: number;
	readonly bodyHeight: number;
	readonly look: Look;
};

/** One glove: the three lines that are always there, and the page that was asked for. */
export function GloveScreen({picture, view, index, catalogue, width, bodyHeight, look}: Props) {
	const {glyphs} = look;
	const head = [
		sourceRow(picture, view, index, width, glyphs),
		linkRow(picture, width, glyphs),
		alertRow(picture, glyphs),
	];
	return (
		<Box flexDirection="column" width={width}>
			<RowLines rows={head} width={width} look={look} />
			<PageBody
				picture={picture}
				view={view}
				index={index}
				catalogue={catalogue}
				width={width}
				bodyHeight={bodyHeight}
				look={look}
			/>
		</Box>
	);
}

function PageBody({picture, view, index, catalogue, width, bodyHeight, look}: Props) {
	const {glyphs} = look;
	// The other glove of two has no selection of its own.
	const ownView = index === view.focus ? view : {...view, finding: null, detail: false, scroll: 0};
	switch (view.page) {
		case 'assembly':
			return (
				<RowLines
					rows={assemblyRows(picture, width, bodyHeight, glyphs)}
					width={width}
					height={bodyHeight}
					look={look}
				/>
			);
		case 'trend':
			return (
				<RowLines
					rows={trendRows(picture, width, bodyHeight, glyphs, true)}
					width={width}
					height={bodyHeight}
					look={look}
				/>
			);
		case 'findings':
			return (
				<FindingsPage
					picture={picture}
					view={ownView}
					catalogue={catalogue}
					width={width}
					height={bodyHeight}
					look={look}
				/>
			);
		case 'link':
			return (
				<RowLines
					rows={linkRows(picture.steady, width, bodyHeight, glyphs)}
					width={width}
					height={bodyHeight}
					look={look}
				/>
			);
		case 'stick':
			return <StickPage picture={picture} width={width} height={bodyHeight} look={look} />;
		default:
			return <OverviewPage picture={picture} selected={view.channel} width={width} height={bodyHeight} look={look} />;
	}
}
