import {once} from 'node:events';
import {mkdtemp, rm, stat} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {setTimeout as wait} from 'node:timers/promises';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {Random} from '../../source/simulator/random.ts';
import {openSource} from '../../source/sources/open-source.ts';
import {startCli} from '../cli/run-cli.ts';
import {glovebench} from '../screen/program-on-screen.ts';
import {bytesOf, eventsOf, readAll} from '../sources/reading.ts';
import {NumberedGlove, numbersIn, type Sent} from './numbered-glove.ts';
import {inTurns, tally, tries} from './tries.ts';

/** What a kill may cost, of what was sent before it (docs/recording.md). */
const mayBeLostMs = 1000;

const started = new Set<{kill(signal: NodeJS.Signals): unknown}>();
let folder: string;
beforeAll(async () => {
	folder = await mkdtemp(join(tmpdir(), 'killed-'));
});
afterAll(async () => {
	for (const program of started) {
		try {
			program.kill('SIGKILL');
		} catch {
			// Killed before, as planned.
		}
	}

	await rm(folder, {recursive: true, force: true});
});

/** What a recording still gives: the numbers of its lines, and whether it says that it was cut. */
async function whatIsLeft(path: string): Promise<{numbers: number[]; events: string[]} | undefined> {
	const size = await stat(path).then(
		found => found.size,
		() => 0,
	);
	if (size === 0) return undefined;
	const items = await readAll(await openSource(path));
	return {numbers: numbersIn(bytesOf(items).toString()), events: eventsOf(items)};
}

function expectWhole(left: Awaited<ReturnType<typeof whatIsLeft>>, sent: readonly Sent[], killedAtMs: number): void {
	const numbers = left?.numbers ?? [];
	// In order, none missing in between, none twice.
	expect(numbers).toEqual(numbers.map((_, index) => index));
	const due = sent.filter(({atMs}) => atMs <= killedAtMs - mayBeLostMs).length;
	expect(numbers.length).toBeGreaterThanOrEqual(due);
	if (left) expect(left.events).toContain('truncated');
}

/** Seeded, so that a failure can be had again: moments from before the first byte to well after, spread evenly. */
const killAfterMs = (index: number, of: number): number =>
	Math.round((2600 * (index + new Random(4000 + index).uniform())) / of);

const kinds = [
	{name: 'record to .gbrec', ending: '.gbrec', few: 2, many: 100},
	{name: 'record to .gbrec.gz', ending: '.gbrec.gz', few: 2, many: 60},
] as const;

describe.concurrent('a recording whose program is killed at any moment', () => {
	it.each(kinds)(
		'reads up to its last line, with at most a second lost: $name',
		async ({name, ending, few, many}) => {
			const count = tries(few, many);
			await inTurns(count, 3, async index => {
				const glove = new NumberedGlove(4);
				const address = await glove.listen();
				const path = join(folder, `${index}${ending}`);
				const child = startCli(['record', address, '-o', path], {stdio: 'ignore'});
				started.add(child);
				const gone = once(child, 'exit');
				const sent = await glove.nextConnection();
				await wait(killAfterMs(index, count));
				const killedAtMs = performance.now();
				child.kill('SIGKILL');
				await gone;
				expectWhole(await whatIsLeft(path), sent, killedAtMs);
				glove.close();
				tally(`kill -9, ${name}`);
			});
		},
		600_000,
	);

	it('reads up to its last line, with at most a second lost: attach --record', async () => {
		const count = tries(1, 40);
		await inTurns(count, 2, async index => {
			const glove = new NumberedGlove(4);
			const address = await glove.listen();
			const path = join(folder, `attach-${index}.gbrec`);
			const program = glovebench(['attach', address, '--record', path]);
			started.add(program);
			const sent = await glove.nextConnection();
			await wait(killAfterMs(index, count));
			const killedAtMs = performance.now();
			program.kill('SIGKILL');
			await program.exited;
			expectWhole(await whatIsLeft(path), sent, killedAtMs);
			glove.close();
			tally('kill -9, attach --record');
		});
	}, 600_000);
});
