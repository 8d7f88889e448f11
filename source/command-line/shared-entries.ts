import type {ArgumentEntry} from './command-entry.ts';
import type {OptionName} from './option-table.ts';

/** Taken by every command that reads a glove. */
export const sourceOptions: readonly OptionName[] = ['sheet', 'baud', 'full-scale', 'layout', 'rate', 'reset'];

/** Of these, what a recording or a log needs. */
export const fileOptions = sourceOptions.filter(name => name !== 'reset');

/** What is read, whatever it is. */
export const source: ArgumentEntry = {
	name: 'SOURCE',
	kind: 'source',
	help: 'A serial port, tcp://host:port, - for standard input, a recording, or a text log.',
};

/** What is read, where only a line that is open will do. */
export const port: ArgumentEntry = {
	name: 'PORT',
	kind: 'port',
	help: 'A serial port (/dev/ttyUSB0, COM5) or tcp://host:port.',
};

/** Taken by a command that attaches to a port and to nothing else. */
export const lineOptions: readonly OptionName[] = ['sheet', 'baud', 'full-scale', 'layout', 'reset'];

/** Taken by every command that draws a screen. */
export const screenOptions: readonly OptionName[] = ['fps', 'screen-reader'];
