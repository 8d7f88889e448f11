import {Box, Text} from 'ink';
import {escapeText} from '../escape-text.ts';
import type {CatalogueEntry} from './finding-rows.ts';
import {GloveScreen} from './GloveScreen.tsx';
import type {GlovePicture} from './glove-picture.ts';
import {keyLine, keyPage} from './key-line.ts';
import type {Look} from './look.ts';
import {positionRow} from './position-bar.ts';
import {RowLines} from './RowLines.tsx';
import {type Row, row} from './rows.ts';
import {headRows, layoutScreen, smallestScreen} from './screen-layout.ts';
import type {ViewState} from './view-state.ts';

export type DashboardProps = {
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
export function Dashboard({gloves, view, columns, rows, look, catalogue}: DashboardProps) {
	const layout = layoutScreen(columns, rows, view);
	const {glyphs} = look;
	if (layout.tooSmall) {
		return (
			<Text>
				{`glovebench needs ${smallestScreen.columns} x ${smallestScreen.rows},`}
				{`\nthis is ${columns} x ${rows}.`}
				{'\nMake it larger. q quits.'}
			</Text>
		);
	}

	const position = gloves[view.focus]?.position ?? null;
	const foot: Row[] = [
		...(view.mode === 'replay' ? [position ? positionRow(position, layout.width, glyphs) : row('')] : []),
		footRow(view, gloves[view.focus]?.notice ?? null, layout.width),
	];
	const pageHeight = headRows + layout.bodyHeight;
	return (
		<Box flexDirection="column" width={layout.width} height={layout.height}>
			{view.page === 'keys' ? (
				<KeysPage view={view} width={layout.width} height={pageHeight} look={look} />
			) : (
				<Box height={pageHeight}>
					{layout.shown.map((index, place) => (
						<Box key={index}>
							{place > 0 && (
								<RowLines rows={Array.from({length: pageHeight}, () => row(glyphs.wall))} width={1} look={look} />
							)}
							<GloveScreen
								picture={gloves[index]}
								view={view}
								index={index}
								catalogue={catalogue}
								width={layout.gloveWidth}
								bodyHeight={layout.bodyHeight}
								look={look}
							/>
						</Box>
					))}
				</Box>
			)}
			<RowLines rows={foot} width={layout.width} look={look} />
		</Box>
	);
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

type KeysPageProps = {
	readonly view: ViewState;
	readonly width: number;
	readonly height: number;
	readonly look: Look;
};

function KeysPage({view, width, height, look}: KeysPageProps) {
	const rows = keyPage(view);
	if (rows.length > height && width >= 110) {
		const half = Math.floor(width / 2);
		return (
			<Box height={height}>
				<RowLines rows={rows.slice(0, height)} width={half} height={height} look={look} />
				<RowLines rows={rows.slice(height)} width={width - half} height={height} look={look} />
			</Box>
		);
	}

	const scroll = Math.max(0, Math.min(view.scroll, rows.length - height));
	const shown = rows.slice(scroll, scroll + height);
	if (scroll + height < rows.length)
		shown[height - 1] = [{text: ` ${look.glyphs.ellipsis} more with down`, tone: 'quiet'}];
	return <RowLines rows={shown} width={width} height={height} look={look} />;
}
