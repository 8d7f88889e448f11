import {readFile} from 'node:fs/promises';
import {expect, test} from 'vitest';
import {parseScript} from '../../source/simulator/script-text.ts';
import {simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';
import {withCauses} from './causes-table.ts';

const page = await readFile(new URL('../../docs/simulator.md', import.meta.url), 'utf8');

test('docs/simulator.md lists every fault with its causes: npm run docs', () => {
	expect(page).toBe(withCauses(page));
	expect(page).toContain('| `dropout` | to-rail, to-neighbour, spike, worn-spot |\n');
});

test('docs/simulator.md shows scripts and faults that work', () => {
	const table = page.slice(page.indexOf('| words |'), page.indexOf('A **fault**'));
	const phrases = [...table.matchAll(/`([^`]+)`/g)].map(([, phrase]) => phrase);
	expect(phrases.length).toBeGreaterThan(14);
	for (const phrase of phrases) expect(parseScript(phrase)).toHaveLength(1);
	const commands = [...page.matchAll(/^ {4}glovebench simulate (.*)$/gm)].map(([, rest]) => rest);
	expect(commands).toHaveLength(2);
	for (const command of commands) {
		const fault = [...command.matchAll(/--fault (\S+)/g)].map(([, text]) => text);
		expect(simulationFromOptions({fault, for: 5}).faults).toHaveLength(fault.length);
	}
});
