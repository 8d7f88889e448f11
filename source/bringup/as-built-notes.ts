import type {BringUpResult} from './bring-up-result.ts';

/** What the sheet as built has otherwise than its names and places said before, a line each; empty where nothing. */
export function asBuiltNotes({fingers, buttons, stick, columns, reels, asBuilt, acceptance}: BringUpResult): string[] {
	const axes = stick ? [stick.x, stick.y] : [];
	const moved = [...fingers, ...axes, ...buttons].filter(each => each.isKnown && each.column !== each.ownColumn);
	const open = acceptance.filter(({verdict}) => verdict === 'open').map(({name}) => name);
	return [
		...moved.map(({name, column}) => {
			const pin = asBuilt.channels[column]?.pin;
			const wire = pin === undefined ? '' : ` (pin ${pin})`;
			return `${name} is on value ${column + 1} of the frame${wire}, where ${columns[column]} was expected: it stands there below.`;
		}),
		...[...reels, ...axes]
			.filter(
				({name, direction}) => direction < 0 && asBuilt.channels.some(each => each.name === name && each.inverted),
			)
			.map(
				({name}) =>
					`${name} falls as ${name.startsWith('stick-') ? 'the stick goes right or down' : 'the finger bends'}: inverted below.`,
			),
		...(open.length > 0 ? [`Not measured, as designed: ${open.join(', ')}.`] : []),
	];
}
