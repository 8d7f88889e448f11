import type {Channel} from '../framing/layout.ts';
import {channelKind, type Sheet, type SheetChannel} from '../sheet/sheet.ts';
import type {Assignment} from './assign-channels.ts';
import type {ReelFigures} from './reel-figures.ts';
import type {StickFigures} from './stick-figures.ts';

/** Keys that belong to the wire, and stay with the column; all others belong to the finger, and go with it. */
const wireKeys = ['pin', 'supplyVolts'] as const;

/**
 * The sheet as built: channels in the order in which they really come, with their true directions and ranges. What was
 * not measured stays as designed. `hasCounts` is false where readings are no counts: ranges are then left out.
 */
export function asBuiltSheet(
	designed: Sheet | undefined,
	channels: readonly Channel[],
	parts: {
		readonly assignments: readonly Assignment[];
		readonly reels: readonly ReelFigures[];
		readonly stick: StickFigures | null;
		readonly fullScale: number | null;
		readonly hasCounts: boolean;
	},
): Sheet {
	const names = channels.map(({name}) => name);
	for (const {name, column, isKnown} of parts.assignments) if (isKnown) names[column] = name;
	for (const axis of parts.stick ? [parts.stick.x, parts.stick.y] : [])
		if (axis.isKnown) names[axis.column] = axis.name;
	return {
		...designed,
		...(parts.fullScale !== null && {board: {fullScale: parts.fullScale, ...designed?.board}}),
		channels: unique(names, channels)
			// A sheet is of one glove, and has no name for the channels of a second one on the line.
			.map(name => (channelKind(name) === undefined ? '-' : name))
			.map((name, column) => channelAsBuilt(name, column, designed, parts)),
	};
}

function channelAsBuilt(
	name: string,
	column: number,
	designed: Sheet | undefined,
	{reels, stick, hasCounts}: Parameters<typeof asBuiltSheet>[2],
): SheetChannel {
	const {line: _line, ...finger} = designed?.channels.find(channel => channel.name === name) ?? {name};
	const wire = designed?.channels[column];
	const built: Record<string, unknown> = {...finger, name};
	for (const key of wireKeys) {
		delete built[key];
		if (wire?.[key] !== undefined) built[key] = wire[key];
	}

	const reel = reels.find(each => each.name === name && each.column === column);
	const axis = [stick?.x, stick?.y].find(each => each?.name === name && each.column === column);
	const measured = reel ?? axis;
	if (measured && measured.direction !== 0) built.inverted = measured.direction < 0;
	if (hasCounts && measured && measured.low !== null && measured.high !== null) {
		built.min = Math.max(0, Math.round(measured.low));
		built.max = Math.max(0, Math.round(measured.high));
	}

	return built as SheetChannel;
}

/** A name that two columns would have stays where it was found; the other column gets the name that is left over. */
function unique(names: readonly string[], channels: readonly Channel[]): string[] {
	const left = channels.map(({name}) => name).filter(name => !names.includes(name));
	const seen = new Set<string>();
	return names.map((name, column) => {
		const isFound = channels[column]?.name !== name;
		const isDouble = names.filter(each => each === name).length > 1;
		if (isDouble && !isFound) return left.shift() ?? name;
		if (seen.has(name)) return left.shift() ?? name;
		seen.add(name);
		return name;
	});
}
