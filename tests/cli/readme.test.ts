import {existsSync, readFileSync} from 'node:fs';
import path from 'node:path';
import {describe, expect, it} from 'vitest';
import {commandTable} from '../../source/command-line/command-table.ts';
import {parseCommandLine} from '../../source/command-line/parse-command-line.ts';
import {blocksOf, examplesOf, matches} from './documented-commands.ts';
import {cliPath} from './run-cli.ts';

const root = path.dirname(path.dirname(cliPath));
const readme = readFileSync(path.join(root, 'README.md'), 'utf8');

const examples = examplesOf(readme);

describe('the README', () => {
	it('shows every command that needs no screen of its own', () => {
		for (const {name} of commandTable) expect(readme, name).toMatch(new RegExp(`glovebench ${name}\\b`));
	});

	it('has examples to run', () => {
		expect(examples.length).toBeGreaterThan(8);
	});

	it('matches no output that is not shown', () => {
		expect(matches('a\nb\nc\n', ['a', '…', 'c'])).toBe(true);
		expect(matches('a\nb\nc\n', ['a', 'c'])).toBe(false);
		expect(matches('a\nb\n', ['a', '…', 'c'])).toBe(false);
		expect(matches('a 12\n', ['a …'])).toBe(true);
	});

	it('names only commands and options there are', () => {
		const lines = blocksOf(readme, 'sh')
			.join('')
			.split('\n')
			.filter(line => line.startsWith('glovebench '));
		expect(lines.length).toBeGreaterThan(3);
		for (const line of lines) {
			const words = line.split('#')[0].trim().split(/\s+/).slice(1);
			expect(parseCommandLine(words).wants, line).toBe('command');
		}
	});

	it('links to files that are there', () => {
		for (const [, target] of readme.matchAll(/\]\(([^)#]+)/g))
			expect(existsSync(path.join(root, target)), target).toBe(true);
	});
});
