import {type Part, panel} from '../screen/part.ts';
import {type Row, row} from '../screen/rows.ts';
import {buttonHead, buttonRow, buttonsLine} from './button-rows.ts';
import {barChannels, channelBarRow, channelHead, channelRow, worstOpen} from './channel-rows.ts';
import {doFirst, doFirstHeights, doFirstParts, fitDoFirst} from './do-first.ts';
import type {FindingPageInput} from './page-input.ts';
import {layoutOverview, stickIsUsed} from './screen-layout.ts';
import {drawStickField, stickLine} from './stick-field.ts';
import {trendRows} from './trend-rows.ts';

/** `selected`: the channel that was chosen by name. */
type Input = FindingPageInput & {readonly selected: string | null};

/** Everything at a glance: channels, stick, buttons, what to do first, and a trend. */
export function overviewPage({picture, selected, catalogue, width, height, look}: Input): Part {
	const {live, steady} = picture;
	const {glyphs} = look;
	const first = doFirstParts(doFirst(live), catalogue, width, glyphs);
	const heights = first === undefined ? undefined : doFirstHeights(first);
	const panels = layoutOverview(width, height, live, heights, stickIsUsed(live));
	const channels = barChannels(live);
	const channelLines = channels.flatMap((channel): Row[] => {
		const line = channelRow(channel, steady.channels[channel.index] ?? channel, {
			width,
			glyphs,
			changedLast: channel.name === picture.pulled,
			selected: channel.name === selected,
			snapshot: live,
		});
		const worst = worstOpen(live, channel.name);
		return panels.barRows === 2 ? [line, channelBarRow(channel, width, glyphs, worst)] : [line];
	});
	const buttons = live.channels.filter(channel => channel.role === 'button');
	const stick = live.stick;
	const x = live.channels.find(channel => channel.name === stick?.x);
	const y = live.channels.find(channel => channel.name === stick?.y);
	const left: Row[] = [];
	if (stick && x && y && panels.stickHeight > 0) left.push(...drawStickField(stick, x, y, panels.stickHeight, glyphs));
	if (panels.buttonRows > 0) {
		left.push(buttonHead(panels.leftWidth - 1));
		left.push(...buttons.map(button => buttonRow(button, live, panels.leftWidth - 1, glyphs)));
	}

	const stickRows: Row[] = [
		...(stick && x && y ? [[{text: '  '}, ...stickLine(stick, x, y, live, glyphs)]] : []),
		...(buttons.length > 0 ? [[{text: '  buttons '}, ...buttonsLine(buttons, glyphs)]] : []),
	];
	const rule = row(glyphs.rule.repeat(width), 'faint');
	const {trendHeight, rightWidth} = panels;
	return {
		down: [
			panel([channelHead(width, channels, glyphs)], width),
			panel(channelLines, width, panels.channelRows),
			panel(stickRows, width, panels.stickLines),
			panel(
				first === undefined ? [] : [rule, ...fitDoFirst(first, panels.doFirstHeight - 1)],
				width,
				panels.doFirstHeight,
			),
			panel([rule], width, panels.ruleHeight),
			{
				across: [
					panel(
						left.map(line => [{text: ' '}, ...line]),
						panels.leftWidth,
						panels.lowerHeight,
					),
					panel(
						trendHeight > 0 ? trendRows(picture, rightWidth, trendHeight, glyphs, false) : [],
						rightWidth,
						panels.lowerHeight,
					),
				],
			},
		],
	};
}
