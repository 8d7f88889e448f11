import {Box, Text} from 'ink';
import type {ScreenLine} from './screen-lines.ts';

type Props = {readonly lines: readonly ScreenLine[]; readonly color: boolean};

/** The routine's lines, one under the other. */
export function BringUpScreen({lines, color}: Props) {
	return (
		<Box flexDirection="column">
			{lines.map(({text, tone}, y) => (
				<Text key={y} wrap="truncate" {...styleOf(tone, color)}>
					{text === '' ? ' ' : text}
				</Text>
			))}
		</Box>
	);
}

function styleOf(tone: ScreenLine['tone'], color: boolean) {
	if (tone === 'strong') return {bold: true};
	if (tone === 'quiet') return {dimColor: true};
	if (tone === 'alert') return color ? {color: 'yellow', bold: true} : {bold: true};
	return {};
}
