import {execFileSync} from 'node:child_process';
import {readFileSync} from 'node:fs';
import {readFile, writeFile} from 'node:fs/promises';
import {join} from 'node:path';
import {setTimeout as wait} from 'node:timers/promises';
import {beforeAll, describe, expect, it} from 'vitest';
import {cliPath} from '../cli/run-cli.ts';
import {playGlove, recordingText} from '../dashboard/play-glove.ts';
import {ProgramOnScreen, type ScreenOptions} from '../screen/program-on-screen.ts';
import {roughBench} from './rough-bench.ts';
import {inTurns, tally, tries, within} from './tries.ts';

const bench = roughBench(5);
beforeAll(() => writeFile(join(bench.folder, 'left.gbrec'), recordingText(playGlove({seconds: 3}))));

let runs = 0;

type How = {
	readonly redirections?: string;
	/** With job control: after a stop the settings are noted, and the job goes on after a line. */
	readonly isStopped?: boolean;
	/** The kind of terminal to say it is. */
	readonly TERM?: string;
};

/** A command under a shell that notes the terminal's settings before and after, and the exit status. */
class Run {
	readonly program: ProgramOnScreen;
	readonly #name = `run-${runs++}`;

	constructor(args: readonly string[], options: ScreenOptions = {}, how: How = {}) {
		const {redirections = '', isStopped = false, TERM} = how;
		const quoted = [TERM ? `env TERM=${TERM}` : '', process.execPath, cliPath, ...args]
			.map(word => (/^(env .*)?$/.test(word) ? word : `'${word}'`))
			.join(' ');
		const stop = isStopped ? `stty -g >${this.#name}.stopped; read line; fg >/dev/null;` : '';
		const line = `${isStopped ? 'set -m;' : ''} stty -g >${this.#name}.before; ${quoted} ${redirections}; ${stop} echo $? >${this.#name}.status; stty -g >${this.#name}.after`;
		this.program = bench.keep(new ProgramOnScreen('/bin/sh', ['-c', line], {cwd: bench.folder, ...options}));
	}

	/** The program itself, below the shell. */
	get pid(): number {
		const {pid} = this.program;
		return Number(readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim().split(' ').at(-1));
	}

	get recording(): string {
		return join(bench.folder, `${this.#name}.gbrec`);
	}

	/** What was noted of the terminal. */
	settings(when: 'before' | 'stopped' | 'after'): Promise<string> {
		return readFile(join(bench.folder, `${this.#name}.${when}`), 'utf8');
	}

	/** Waits for the end; the terminal must be as it was. Resolves to the exit status. */
	async end(): Promise<number> {
		await within(30_000, this.program.exited);
		expect(await this.settings('after')).toBe(await this.settings('before'));
		expect(this.program.onAlternateScreen).toBe(false);
		expect(this.program.cursorShown).toBe(true);
		return Number(await readFile(join(bench.folder, `${this.#name}.status`), 'utf8'));
	}
}

async function expectClosed(recording: string): Promise<void> {
	const last = (await readFile(recording, 'utf8')).trimEnd().split('\n').at(-1)!;
	expect(JSON.parse(last)).toMatchObject({end: true, bytes: expect.any(Number)});
}

type Case = {
	readonly name: string;
	readonly args: (recording: string) => readonly string[];
	readonly up: string | RegExp;
	readonly records?: true;
	/** Draws on the whole screen, or takes the keys. */
	readonly takesTerminal?: true;
};

const commands: readonly Case[] = [
	{
		name: 'attach',
		args: to => ['attach', bench.address, '--record', to],
		up: /thumb .*\d{3}/,
		records: true,
		takesTerminal: true,
	},
	{name: 'demo', args: to => ['demo', '--record', to], up: /thumb .*\d{3}/, records: true, takesTerminal: true},
	{
		name: 'bringup',
		args: to => ['bringup', bench.address, '--record', to],
		up: 'step 1',
		records: true,
		takesTerminal: true,
	},
	{name: 'replay', args: () => ['replay', 'left.gbrec'], up: 'q quit', takesTerminal: true},
	{
		name: 'attach, line by line',
		args: () => ['attach', bench.address, '--screen-reader'],
		up: 'q quits',
		takesTerminal: true,
	},
	{name: 'record', args: to => ['record', bench.address, '-o', to], up: /[1-9]\d* bytes/, records: true},
	{name: 'check --follow', args: () => ['check', bench.address, '--follow'], up: /layout|frames/i},
	{name: 'check', args: () => ['check', bench.address, '--for', '60s'], up: ''},
	{name: 'simulate', args: () => ['simulate'], up: /\d+,\d+/},
	{name: 'simulate --listen', args: () => ['simulate', '--listen', '0'], up: 'tcp://127.0.0.1:'},
];

/** 128 and the signal's number (POSIX, 2.8.2 Exit Status for Commands). */
const signals = [
	['SIGINT', 130],
	['SIGTERM', 143],
	['SIGHUP', 129],
] as const;

const start = async ({args, up}: Case, options: ScreenOptions = {}, isStopped = false): Promise<Run> => {
	const recording = join(bench.folder, `run-${runs}.gbrec`);
	const run = new Run(args(recording), options, {isStopped});
	if (up === '') await wait(700);
	else await run.program.until(up, 20_000);
	return run;
};

describe.skipIf(process.platform !== 'linux').concurrent('a command that is ended from outside', () => {
	it('gives the terminal back, closes its recording and ends with 128 and the signal', async () => {
		const pairs = commands.flatMap((command, index) =>
			signals.map((signal, other) => ({command, signal, chosen: (index + other) % 3 === 0})),
		);
		// Each command with one signal among the other tests, with each in the long run.
		const taken = tries(0, 1) ? pairs : pairs.filter(({chosen}) => chosen);
		await inTurns(taken.length, 3, async index => {
			const {command, signal} = taken[index];
			const run = await start(command);
			process.kill(run.pid, signal[0]);
			expect(await run.end(), `${command.name}, ${signal[0]}`).toBe(signal[1]);
			if (command.records) await expectClosed(run.recording);
			tally(`${signal[0]} to a command`);
		});
	}, 120_000);

	it('takes a Ctrl-C that reaches it twice, through npm and by itself, for one', async () => {
		const recording = join(bench.folder, `run-${runs}.gbrec`);
		const run = new Run(['record', bench.address, '-o', recording]);
		await run.program.until(/[1-9]\d* bytes/, 20_000);
		const {pid} = run;
		process.kill(pid, 'SIGINT');
		process.kill(pid, 'SIGINT');
		expect(await run.end()).toBe(130);
		await expectClosed(recording);
		tally('SIGINT twice at once');
	}, 120_000);

	it('takes no notice of SIGPIPE, and is brought back as it was after SIGTSTP and SIGCONT', async () => {
		const chosen = commands.filter(({takesTerminal}) => takesTerminal).slice(0, tries(3, 9));
		await inTurns(chosen.length, 3, async index => {
			const command = chosen[index];
			const run = await start(command, {}, true);
			const {program, pid} = run;
			process.kill(pid, 'SIGPIPE');
			process.kill(pid, 'SIGTSTP');
			await poll(() => run.settings('stopped').then(text => text !== ''));
			// As the shell left it, which has nothing but the program to put it back.
			expect(await run.settings('stopped'), command.name).toBe(await run.settings('before'));
			await program.until(() => !program.onAlternateScreen && program.cursorShown);
			program.send('\r');
			await poll(async () => / -icanon\b/.test(settingsOf(pid)));
			program.send('q');
			const status = await run.end();
			expect([0, 1], `${command.name}: ${program.raw.slice(-500)}`).toContain(status);
			if (command.records) await expectClosed(run.recording);
			tally('stopped and taken up again');
		});
	}, 120_000);
});

/** The settings of the terminal a process is on. */
function settingsOf(pid: number): string {
	return ` ${execFileSync('stty', ['-a', '-F', `/proc/${pid}/fd/0`], {encoding: 'utf8'}).replaceAll('\n', ' ')} `;
}

async function poll(holds: () => Promise<boolean>): Promise<void> {
	for (let look = 0; look < 1000; look++) {
		if (await holds().catch(() => false)) return;
		await wait(10);
	}

	throw new Error('Waited in vain.');
}

describe.skipIf(process.platform !== 'linux').concurrent('a poor terminal', () => {
	it('of one place, or one that knows no sequences, is drawn on and left as it was', async () => {
		const taking = commands.filter(({takesTerminal}) => takesTerminal);
		const cases = taking.flatMap(command => [
			{command, what: '1×1', options: {columns: 1, rows: 1}},
			{command, what: 'TERM=dumb', options: {}},
		]);
		const chosen = tries(0, 1) ? cases : cases.filter((_, index) => index % 3 === 0);
		await inTurns(chosen.length, 3, async index => {
			const {command, what, options} = chosen[index];
			const isDumb = what === 'TERM=dumb';
			const run = new Run(command.args(join(bench.folder, `run-${runs}.gbrec`)), options, isDumb ? {TERM: 'dumb'} : {});
			await run.program.until(() => run.program.raw !== '', 20_000);
			await wait(800);
			// Without a place for its keys bringup is ended from outside.
			if (isDumb && command.name === 'bringup') process.kill(run.pid, 'SIGINT');
			else run.program.send('q');
			const status = await run.end();
			expect([0, 1, 130], `${command.name}, ${what}`).toContain(status);
			if (isDumb) expect(run.program.raw).not.toContain('\u001B');
			tally('poor terminals');
		});
	}, 120_000);

	it('is not asked for where there is none', async () => {
		for (const args of [
			['attach', bench.address],
			['replay', 'left.gbrec'],
		]) {
			const run = new Run(args, {}, {redirections: '>out.txt 2>err.txt'});
			expect(await run.end()).toBe(2);
			expect(await readFile(join(bench.folder, 'err.txt'), 'utf8')).toMatch(
				/^glovebench: The dashboard needs a terminal to draw on, and standard output is none: try `glovebench check /,
			);
			tally('no terminal');
		}
	}, 120_000);

	it('with streams closed from the start does not stop what was asked for', async () => {
		const cases = [
			['stdin', '<&-'],
			['stdout', '>&-'],
			['stderr', '2>&-'],
			['all', '<&- >&- 2>&-'],
		] as const;
		await inTurns(cases.length, 2, async index => {
			const [what, redirections] = cases[index];
			const recording = `closed-${what}.gbrec`;
			const run = new Run(['record', bench.address, '-o', recording, '--for', '300ms'], {}, {redirections});
			expect(await run.end(), what).toBe(0);
			await expectClosed(join(bench.folder, recording));
			tally('streams closed from the start');
		});
	}, 120_000);

	it('whose reader goes away ends what prints, and lets go on what records', async () => {
		const printing = new Run(
			['check', bench.address, '--follow', '--json'],
			{},
			{redirections: '| head -n 1 >first.txt'},
		);
		await printing.end();
		expect(JSON.parse(await readFile(join(bench.folder, 'first.txt'), 'utf8'))).toMatchObject({event: 'start'});
		const recording = new Run(
			['record', bench.address, '-o', 'on.gbrec', '--for', '1500ms'],
			{},
			{redirections: '2>&1 | head -n 1 >talk.txt'},
		);
		await recording.end();
		const text = await readFile(join(bench.folder, 'on.gbrec'), 'utf8');
		const end = JSON.parse(text.trimEnd().split('\n').at(-1)!);
		expect(end).toMatchObject({end: true});
		expect(end.t).toBeGreaterThanOrEqual(1.4);
		tally('readers that went away', 2);
	}, 120_000);
});
