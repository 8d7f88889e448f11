import {mkdtemp, readFile} from 'node:fs/promises';
import {join} from 'node:path';
import {describe, expect, it} from 'vitest';
import {openSource} from '../../source/sources/open-source.ts';
import {cliPath} from '../cli/run-cli.ts';
import {ProgramOnScreen} from '../screen/program-on-screen.ts';
import {bytesOf, eventsOf, readAll} from '../sources/reading.ts';
import {numbersIn} from './numbered-glove.ts';
import {roughBench} from './rough-bench.ts';
import {tally, within} from './tries.ts';

const bench = roughBench(5);

const preload = join(import.meta.dirname, 'break-on-signal.mjs');

/** `ADDRESS` is filled in once the glove listens. */
const cases = [
	{breaks: 'a component of the view', where: 'Panels', args: ['attach', 'ADDRESS'], up: /thumb .*\d{3}/, keys: 'fo'},
	{breaks: 'what the view shows', where: 'screenPart', args: ['attach', 'ADDRESS'], up: /thumb .*\d{3}/, keys: ''},
	{breaks: 'a timer', where: 'timer', args: ['attach', 'ADDRESS'], up: /thumb .*\d{3}/, keys: ''},
	{breaks: 'a promise', where: 'promise', args: ['demo'], up: /thumb .*\d{3}/, keys: ''},
	{breaks: 'the page of bringup', where: 'benchPage', args: ['bringup', 'ADDRESS'], up: 'step 1', keys: ''},
	{breaks: 'a timer under record', where: 'timer', args: ['record', 'ADDRESS'], up: /[1-9]\d* bytes/, keys: ''},
] as const;

describe.skipIf(process.platform === 'win32').concurrent('a defect in glovebench', () => {
	it.each(cases)(
		'gives the terminal back, closes the recording and says what to send: $breaks',
		async each => {
			const recording = join(await mkdtemp(join(bench.folder, 'try-')), 'session.gbrec');
			const args = each.args.map(word => (word === 'ADDRESS' ? bench.address : word));
			const program = new ProgramOnScreen(
				process.execPath,
				[cliPath, ...args, args[0] === 'record' ? '--output' : '--record', recording],
				{cwd: bench.folder, columns: 160, rows: 50, env: {NODE_OPTIONS: `--import=${preload}`, BREAK: each.where}},
			);
			bench.keep(program);
			await program.until(each.up, 20_000);
			program.kill('SIGUSR2');
			// Another page is another layout, which has to be rendered; the signal may come after the first key.
			let key = 0;
			const pressing = setInterval(() => each.keys && program.send(each.keys[key++ % each.keys.length]), 300);
			const status = await within(30_000, program.exited).finally(() => clearInterval(pressing));
			expect(status).toBe(2);
			expect(program.onAlternateScreen).toBe(false);
			expect(program.cursorShown).toBe(true);
			const note = program.text.slice(program.text.indexOf('glovebench: this is a defect'));
			// A key pressed once the terminal is given back is echoed by the terminal, below what the program said.
			const lines = note.split('\n').filter(line => !/^[fo]+$/.test(line));
			const [what, system, ...more] = lines;
			expect(what).toBe('glovebench: this is a defect in glovebench: TypeError: broken on purpose.');
			expect(system).toMatch(/^ {2}glovebench \d+\.\d+\.\d+, Node [\d.]+, \w+ \w+$/);
			expect(more.at(-1)).toMatch(/^ {2}Please report these lines with the command you gave and the recording/);
			expect(more.length).toBeLessThanOrEqual(4);
			expect(program.text).toContain(recording);
			const items = await readAll(await openSource(recording));
			expect(eventsOf(items)).not.toContain('truncated');
			if (args[0] !== 'demo') expect(numbersIn(bytesOf(items).toString()).length).toBeGreaterThan(3);
			expect(JSON.parse((await readFile(recording, 'utf8')).trimEnd().split('\n').at(-1)!)).toMatchObject({end: true});
			tally('defects brought about');
		},
		40_000,
	);
});
