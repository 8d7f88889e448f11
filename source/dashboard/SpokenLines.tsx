import {Static, Text} from 'ink';
import {escapeText} from '../text/escape-text.ts';

/** Lines that are written once, one after the other, and never changed: what a screen reader reads out. */
export function SpokenLines({lines}: {readonly lines: readonly string[]}) {
	return <Static items={[...lines]}>{(line, index) => <Text key={index}>{escapeText(line)}</Text>}</Static>;
}
