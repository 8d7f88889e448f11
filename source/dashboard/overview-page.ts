import type {Look} from '../screen/look.ts';
import {type Part, panel} from '../screen/part.ts';
import type {Row} from '../screen/rows.ts';
import {buttonHead, buttonRow, buttonsLine} from './button-rows.ts';
import {barChannels, changedLast, channelBarRow, channelHead, channelRow, worstOpen} from './channel-rows.ts';
import {findingPanel} from './finding-rows.ts';
import type {GlovePicture} from './glove-picture.ts';
import {layoutOverview} from './screen-layout.ts';
import {drawStickField, stickLine} from './stick-field.ts';
import {trendRows} from './trend-rows.ts';

type Input = {
	readonly picture: GlovePicture;
	readonly selected: string | null;
	readonly width: number;
	readonly height: number;
	readonly look: Look;
};

/** Everything at a glance: channels, stick, buttons, findings, and the selected channel's trend. */
export function overviewPage({picture, selected, width, height, look}: Input): Part {
	const {live, steady} = picture;
	const {glyphs} = look;
	const panels = layoutOverview(width, height, live);
	const channels = barChannels(live);
	const last = changedLast(live);
	const channelLines = channels.flatMap((channel): Row[] => {
		const worst = worstOpen(live, channel.name);
		const line = channelRow(channel, steady.channels[channel.index] ?? channel, {
			width,
			glyphs,
			changedLast: channel === last,
			selected: channel.name === selected,
			worst,
		});
		return panels.barRows === 2 ? [line, channelBarRow(channel, width, glyphs, worst)] : [line];
	});
	const buttons = live.channels.filter(channel => channel.role === 'button');
	const stick = live.stick;
	const x = live.channels.find(channel => channel.name === stick?.x);
	const y = live.channels.find(channel => channel.name === stick?.y);
	const left: Row[] = [];
	if (stick && x && y && panels.stickHeight > 0) {
		left.push(...drawStickField(stick, x, y, panels.stickHeight, glyphs).map(text => [{text}]));
	}

	if (panels.buttonRows > 0) {
		left.push(buttonHead(panels.leftWidth - 1));
		left.push(...buttons.map(button => buttonRow(button, panels.leftWidth - 1, glyphs)));
	}

	const {rightWidth} = panels;
	const oneLine: Row = [
		{text: ' '},
		...(stick && x && y ? stickLine(stick, x, y) : []),
		{text: ' '},
		...buttonsLine(buttons, glyphs),
	];
	return {
		down: [
			panel([channelHead(width, channels, glyphs)], width),
			panel(channelLines, width, panels.channelRows),
			panel([oneLine], width, panels.compact ? 1 : 0),
			{
				across: [
					panel(
						left.map(line => [{text: ' '}, ...line]),
						panels.leftWidth,
						panels.lowerHeight,
					),
					{
						down: [
							panel(findingPanel(live, rightWidth, panels.findingsHeight, glyphs), rightWidth, panels.findingsHeight),
							panel(
								panels.trendHeight > 0 ? trendRows(picture, rightWidth, panels.trendHeight, glyphs, false) : [],
								rightWidth,
								panels.trendHeight,
							),
						],
					},
				],
			},
		],
	};
}
