import type {CommandEntry} from '../command-line/command-entry.ts';
import {source, sourceOptions} from '../command-line/shared-entries.ts';

/** `glovebench check`, as help, completions, the manual page and the reading of the command line know it. */
export const checkEntry: CommandEntry = {
	name: 'check',
	summary: 'Reads a source and reports what is wrong and what to measure next',
	notes: [
		'A file is read to its end, a port for --for. Exit status 1 means that something at failure or out-of-spec weighs: it is there at the end, or it comes and goes by nature. What was mended meanwhile weighs no more.',
		'The verdict is pass only once every finger, stick axis and button has been proven; else, with nothing wrong, it is unproven, and says what to move.',
		'The report begins with how the source was read: which columns as what, what was taken out or left out, and the sessions that a log holds. Several sources give a table, the worst first, and one exit status; with --json an object a line, in the order given.',
	],
	meanings: {for: 'How long to read a port. Default: 20s.'},
	arguments: [
		source,
		{name: 'MORE', kind: 'source', optional: true, multiple: true, help: 'More sources, for a table of them.'},
	],
	options: [
		...sourceOptions,
		'for',
		'session',
		'json',
		'markdown',
		'full',
		'reply',
		'openmetrics',
		'html',
		'junit',
		'follow',
		'proven',
		'why',
	],
	examples: [
		{line: 'glovebench check recordings/floating-input.gbrec', does: 'a report on a recording'},
		{line: 'glovebench check /dev/ttyUSB0 --for 1m', does: 'a minute of the glove on that port'},
		{line: 'glovebench check log.txt --html report.html', does: 'and a page to pass on'},
		{line: 'glovebench check log.txt --reply', does: 'an answer to whoever sent the log'},
		{line: 'glovebench check log.txt --json', does: 'the same findings for another program'},
		{line: 'glovebench check rig.gbrec --junit rig.xml', does: 'and a test case for each check'},
		{line: 'glovebench check log.txt --session 1', does: 'the first of the sessions in it'},
		{line: 'glovebench check monday.txt tuesday.txt', does: 'a line on each, the worst first'},
		{line: 'glovebench check log.txt --why narrow-span:ring', does: 'why the ring finger was not called narrow'},
		{line: 'glovebench check log.txt --proven', does: 'status 0 only for a glove that is proven to be whole'},
		{line: 'glovebench check /dev/ttyUSB0 --follow --json', does: 'events as they happen, one per line'},
	],
};
