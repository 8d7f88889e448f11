import {spawnSync} from 'node:child_process';
import {readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {commandTable} from '../../source/command-line/command-table.ts';
import {escapeRoff, manPage} from '../../source/command-line/man-page.ts';
import {commonOptions, optionTable} from '../../source/command-line/option-table.ts';
import {tool} from '../../source/version.ts';

const page = manPage(tool);
const groff = (...options: string[]) =>
	spawnSync('groff', ['-man', '-Tutf8', '-P-cbou', ...options], {input: page, encoding: 'utf8'});
const hasGroff = groff('-z').error === undefined;

/** The page as roff would read it: named characters back to what they stand for. */
const plain = page
	.replace(/\\f[BIR]/g, '')
	.replaceAll('\\-', '-')
	.replaceAll('\\(aq', "'")
	.replaceAll('\\(ga', '`')
	.replaceAll('\\(ti', '~')
	.replaceAll('\\(dq', '"')
	.replaceAll('\\(ha', '^');

describe('the manual page', () => {
	it('has the sections of man-pages(7) in their order', () => {
		// Source: man-pages(7), Linux man-pages project: NAME, SYNOPSIS, DESCRIPTION …, EXIT STATUS, ENVIRONMENT.
		const sections = [...page.matchAll(/^\.SH (.*)$/gm)].map(([, name]) => name);
		const order = ['NAME', 'SYNOPSIS', 'DESCRIPTION', '"EXIT STATUS"', 'ENVIRONMENT'];
		expect(sections.filter(name => order.includes(name ?? ''))).toEqual(order);
		// whatis(1) and apropos(1) read `name \- description` from NAME.
		expect(page).toMatch(/^\.SH NAME\nglovebench \\- \S/m);
	});

	it('describes every command with its options, in the order of the table', () => {
		const parts = plain
			.slice(0, plain.indexOf('.SH "OPTIONS OF EVERY'))
			.split(/^\.SS "/m)
			.slice(1);
		expect(parts.map(part => part.split(' ')[1])).toEqual(commandTable.map(({name}) => name));
		for (const [index, {options, examples}] of commandTable.entries()) {
			for (const name of options) {
				expect(parts[index]).toMatch(new RegExp(`^(-., )?--${optionTable[name].on ? 'no-' : ''}${name}( |$)`, 'm'));
			}

			for (const {line} of examples) expect(parts[index]).toContain(`.EX\n    ${line}\n.EE`);
		}

		for (const name of commonOptions) expect(plain).toContain(`--${optionTable[name].on ? 'no-' : ''}${name}\n`);
	});

	it('holds ASCII only, and no request but those of man(7) that it uses', () => {
		expect(page).toMatch(/^[\n\x20-\x7E]*$/);
		const requests = new Set([...page.matchAll(/^[.'](\S*)/gm)].map(([, name]) => name));
		expect([...requests].sort()).toEqual(['EE', 'EX', 'PP', 'SH', 'SS', 'TH', 'TP']);
	});

	it.skipIf(!hasGroff)('passes groff with all warnings on', () => {
		const {stderr, status} = groff('-ww', '-z');
		expect(stderr).toBe('');
		expect(status).toBe(0);
	});

	it.skipIf(!hasGroff)('shows commands that can be copied, with plain hyphens and quotes', () => {
		const {stdout} = groff('-rLL=120n');
		expect(stdout).toContain('glovebench share left.gbrec -o to-send.gbrec.gz');
		expect(stdout).toContain("'rest 2s, tap index 12x'");
		expect(stdout).toContain('~/.config/fish/completions/glovebench.fish');
	});

	it('is written by the build', () => {
		const built = readFileSync(new URL('../../dist/glovebench.1', import.meta.url), 'utf8');
		expect(built.startsWith(`.TH GLOVEBENCH 1 "" "glovebench ${escapeRoff(tool.version)}"`)).toBe(true);
	});
});

describe('escapeRoff', () => {
	it('lets no text become a request, and keeps what roff would turn into something else', () => {
		expect(escapeRoff('.so /etc/passwd')).toBe('\\&.so /etc/passwd');
		expect(escapeRoff("'quoted'")).toBe('\\(aqquoted\\(aq');
		expect(escapeRoff('a\\b --x `y` ~ 5 Ω')).toBe('a\\eb \\-\\-x \\(gay\\(ga \\(ti 5 \\[u03A9]');
	});
});
