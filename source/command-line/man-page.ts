import type {CommandEntry} from './command-entry.ts';
import {optionOf} from './command-options.ts';
import {commandTable} from './command-table.ts';
import {commandUsage, exitStatuses, optionMeaning, optionUsage} from './help-text.ts';
import {commonOptions, type OptionName, optionTable} from './option-table.ts';

/**
 * Text as roff takes it for itself: backslashes and hyphens are named, so that what is copied from the page still works
 * as a command, and a line never begins with a dot or an apostrophe, which would make it a request (groff(7)).
 */
export function escapeRoff(text: string): string {
	return (
		text
			.replaceAll('\\', '\\e')
			.replaceAll('-', '\\-')
			.replaceAll("'", '\\(aq')
			.replaceAll('`', '\\(ga')
			.replaceAll('~', '\\(ti')
			.replaceAll('^', '\\(ha')
			.replace(/^\./gm, '\\&.')
			// As groff_char(7) names them: whatever encoding the page is read in, they come out right.
			.replace(/[^\0-\x7F]/gu, char => `\\[u${char.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')}]`)
	);
}

/** A macro's argument: one word for roff, whatever is in it. */
const quoted = (text: string) => `"${escapeRoff(text).replaceAll('"', '\\(dq')}"`;

const bold = (text: string) => `\\fB${escapeRoff(text)}\\fR`;

/** A term and what it means. */
const tagged = (term: string, meaning: string) => `.TP\n${term}\n${escapeRoff(meaning)}`;

/** `-o, --output FILE`: what is typed in bold, what is filled in in italics. */
function optionTerm(name: OptionName): string {
	return optionUsage(name, optionTable[name])
		.split(' ')
		.map(word => {
			const [, typed = '', comma = ''] = /^(-[^,]*)(,?)$/.exec(word) ?? [];
			return typed === '' ? `\\fI${escapeRoff(word)}\\fR` : `${bold(typed)}${comma}`;
		})
		.join(' ');
}

function commandSection(command: CommandEntry): string[] {
	const rows = [
		...command.arguments.map(({name, help}) => tagged(`\\fI${escapeRoff(name)}\\fR`, help)),
		...command.options.map(name => tagged(optionTerm(name), optionMeaning(name, optionOf(command, name), command))),
	];
	return [
		`.SS ${quoted(commandUsage(command))}`,
		escapeRoff(`${command.summary}.`),
		...(command.notes ?? []).flatMap(note => ['.PP', escapeRoff(note)]),
		...rows,
		...command.examples.flatMap(({line, does}) => [
			'.PP',
			escapeRoff(`${capital(does)}:`),
			'.PP',
			'.EX',
			`    ${escapeRoff(line)}`,
			'.EE',
		]),
	];
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * The manual page glovebench(1) in roff, with the macros of man(7), from the table of commands.
 *
 * @param tool Its version and its description in a sentence.
 */
export function manPage({version, description}: {readonly version: string; readonly description: string}): string {
	const lines = [
		// No date: a page made twice from the same table is the same.
		`.TH GLOVEBENCH 1 "" ${quoted(`glovebench ${version}`)} "User Commands"`,
		'.SH NAME',
		`glovebench \\- ${escapeRoff(description.replace(/\.$/, ''))}`,
		'.SH SYNOPSIS',
		`${bold('glovebench')} \\fIcommand\\fR [\\fIsource\\fR] [\\fIoptions\\fR]`,
		'.SH DESCRIPTION',
		escapeRoff(
			'glovebench attaches to a sensor glove or replays a recording of one, shows what every channel does, names faults with their evidence and what to measure next, and computes the settings for the firmware.',
		),
		'.PP',
		escapeRoff(
			'A source is a serial port (/dev/ttyUSB0, COM5), tcp://host:port, - for standard input, a recording, or a plain text log. Results go to standard output, talk to standard error.',
		),
		'.SH COMMANDS',
		...commandTable.flatMap(commandSection),
		'.SH "OPTIONS OF EVERY COMMAND"',
		...commonOptions.map(name => tagged(optionTerm(name), optionTable[name].help)),
		'.SH "EXIT STATUS"',
		...exitStatuses.map(([status, meaning]) => tagged(bold(status), `${capital(meaning)}.`)),
		'.SH ENVIRONMENT',
		tagged(bold('NO_COLOR'), 'Leaves out colour where it is set and not empty.'),
	];
	return `${lines.join('\n')}\n`;
}
