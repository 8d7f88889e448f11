import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {commandTable, findCommand} from '../../source/command-line/command-table.ts';
import {commonOptions, optionTable} from '../../source/command-line/option-table.ts';
import {camelCase, parseCommandLine} from '../../source/command-line/parse-command-line.ts';

function run(...argv: string[]) {
	const line = parseCommandLine(argv);
	if (line.wants !== 'command') throw new Error(`wants ${line.wants}`);
	return line;
}

/** The one line a user sees. */
function refusal(...argv: string[]): string {
	try {
		parseCommandLine(argv);
	} catch (error) {
		if (error instanceof CannotError) return error.message;
		throw error;
	}

	throw new Error(`accepted: ${argv.join(' ')}`);
}

describe('what was typed', () => {
	it('gives the command, its argument and checked values', () => {
		const {command, arguments: words, options} = run('check', 'log.txt', '--for', '2m', '--baud=9600', '--json');
		expect(command.name).toBe('check');
		expect(words).toEqual(['log.txt']);
		expect(options).toMatchObject({for: 120, baud: 9600, json: true, color: true, reset: true});
		expect(options.markdown).toBeUndefined();
	});

	it('takes options before, between and after the words', () => {
		expect(run('--json', 'check', 'a.gbrec').options.json).toBe(true);
		expect(run('check', '--json', 'a.gbrec').arguments).toEqual(['a.gbrec']);
	});

	it('takes - as the name of standard input, and what follows -- as names', () => {
		expect(run('check', '-').arguments).toEqual(['-']);
		expect(run('check', '--', '--odd-name.txt').arguments).toEqual(['--odd-name.txt']);
	});

	it('turns off what is on by default with --no-', () => {
		expect(run('check', 'COM5', '--no-reset', '--no-color').options).toMatchObject({reset: false, color: false});
	});

	it('wants help for help, --help, -h and for nothing at all', () => {
		expect(parseCommandLine([])).toEqual({wants: 'help', command: undefined, asked: false});
		expect(parseCommandLine(['--help'])).toEqual({wants: 'help', command: undefined, asked: true});
		for (const argv of [
			['check', '--help'],
			['check', '-h'],
			['help', 'check'],
		]) {
			expect(parseCommandLine(argv)).toEqual({wants: 'help', command: findCommand('check'), asked: true});
		}

		expect(parseCommandLine(['--version'])).toEqual({wants: 'version'});
	});
});

describe('what is refused, and in which words', () => {
	it.each([
		[['chekc', 'a'], 'Unknown command "chekc". Did you mean check? See: glovebench --help'],
		[['zebra'], 'Unknown command "zebra". See: glovebench --help'],
		[['check', 'a', '--jsno'], 'Unknown option --jsno for check. Did you mean --json? See: glovebench check --help'],
		[
			['check', 'a', '--no-colour'],
			'Unknown option --no-colour for check. Did you mean --no-color? See: glovebench check --help',
		],
		[['check', 'a', '-x'], 'Unknown option -x for check. See: glovebench check --help'],
		[['explain', '--baud', '9600'], 'explain does not take --baud. It belongs to '],
		[
			['check'],
			'check needs SOURCE: a serial port, tcp://host:port, - for standard input, a recording, or a text log.',
		],
		[['fit', 'a', 'b'], 'fit has no use for "b" after its arguments. See: glovebench fit --help'],
		[['check', 'a', '--session', '0'], '--session must not be "0": it takes the number of a session, 1 for the first'],
		[['check', 'a', '--baud', 'fast'], '--baud must not be "fast": it takes a whole number such as 115200, or auto.'],
		[['check', 'a', '--baud', '-9600'], '--baud must not be "-9600"'],
		[['check', 'a', '--baud', '9600.5'], '--baud must not be "9600.5"'],
		[['check', 'a', '--baud', '0x2580'], '--baud must not be "0x2580"'],
		[['check', 'a', '--baud'], '--baud needs a value: it takes a whole number such as 115200, or auto.'],
		[['check', 'a', '--baud', '--json'], '--baud needs a value'],
		[['check', 'a', '--no-baud'], '--baud needs a value'],
		[['check', 'a', '--baud', '300', '--baud', '600'], '--baud was given more than once; once is enough.'],
		[['check', 'a', '--rate', 'NaN'], '--rate must not be "NaN"'],
		[['check', 'a', '--rate', '0'], '--rate must not be "0"'],
		[['check', 'a', '--for', 'twenty'], '--for must not be "twenty"'],
		[['check', 'a', '--full-scale', '0'], '--full-scale must not be "0"'],
		[['completions', 'bsh'], 'SHELL must not be "bsh": it takes one of bash, zsh, fish. Did you mean bash?'],
	])('%j', (argv, words) => {
		expect(refusal(...argv)).toContain(words);
		expect(refusal(...argv)).not.toContain('\n');
	});

	it('is not fooled by names every object has', () => {
		expect(refusal('check', 'a', '--constructor')).toContain('Unknown option --constructor');
		expect(refusal('check', 'a', '--to-string')).toContain('Unknown option');
		expect(refusal('check', 'a', '--__proto__', 'x')).toContain('Unknown option');
		expect(refusal('constructor')).toContain('Unknown command');
	});
});

describe('the command table', () => {
	it('gives every command a one-line summary, and examples that it accepts itself', () => {
		for (const command of commandTable) {
			expect(command.summary.length, command.name).toBeLessThan(80);
			expect(command.examples.length, command.name).toBeGreaterThan(0);
			for (const {line} of command.examples) {
				const typed = /glovebench ([^|<>)]*)/.exec(line)?.[1] ?? '';
				const words = (typed.match(/'[^']*'|\S+/g) ?? []).map(word => word.replaceAll("'", ''));
				expect(run(...words).command.name, line).toBe(command.name);
			}
		}
	});

	it('says what is right for every option that takes a value', () => {
		for (const [name, entry] of Object.entries(optionTable)) {
			if (entry.kind === 'switch') continue;
			expect(entry.value, name).toBeDefined();
			expect(entry.kind === 'file' || entry.kind === 'choice' || entry.takes, name).toBeTruthy();
		}
	});

	it('uses each short letter and each name once', () => {
		const letters = Object.values(optionTable).flatMap(({short}) => short ?? []);
		expect(new Set(letters).size).toBe(letters.length);
		const names = Object.keys(optionTable).map(camelCase);
		expect(new Set(names).size).toBe(names.length);
	});

	it('lists no option of a command twice and none that no command takes', () => {
		const used = new Set(commonOptions);
		for (const {name, options} of commandTable) {
			const all = [...options, ...commonOptions];
			expect(new Set(all).size, name).toBe(all.length);
			for (const option of options) used.add(option);
		}

		expect(Object.keys(optionTable).filter(name => !used.has(name as (typeof commonOptions)[number]))).toEqual([]);
	});
});
