import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, afterEach, beforeAll, describe, it} from 'vitest';
import {floatingRing, playGlove, recordingText} from '../dashboard/play-glove.ts';
import {glovebench, type ProgramOnScreen} from './program-on-screen.ts';

let folder: string;
let program: ProgramOnScreen;

beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'replay-keys-'));
	const mark = {t: 20.001, mark: 'ring reel re-soldered'};
	const items = [...playGlove(floatingRing), mark].toSorted((a, b) => a.t - b.t);
	writeFileSync(path.join(folder, 'left.gbrec'), recordingText(items));
	writeFileSync(path.join(folder, 'right.gbrec'), recordingText(playGlove({seconds: 25})));
});

afterAll(() => rmSync(folder, {recursive: true}));
afterEach(() => program.dispose());

/** All read ahead, and held at a time. */
const heldAt = (time: string) => new RegExp(`held \\S+x(?: loop)? +${time.replace('.', '\\.')} [^·.]+ \\d:\\d\\d`);

/** Keys in turn, each with what the position line comes to. */
async function press(steps: readonly (readonly [keys: string, time: string])[]) {
	for (const [keys, time] of steps) {
		program.send(keys);
		await program.until(heldAt(time));
	}
}

const [left, right, pageUp, pageDown, home, end] = ['D', 'C', '5~', '6~', 'H', 'F'].map(code => `\u001B[${code}`);

describe('a replay', () => {
	it('goes by its keys to findings, marks, typed times, by seconds, tenths, ends and single frames', async () => {
		program = glovebench(['replay', 'left.gbrec', '--hold'], {cwd: folder});
		await program.until(heldAt('0:00.0'));
		await press([
			['n', '0:15.5'],
			['k', '0:20.0'],
			['N', '0:15.5'],
			['w0:30\r', '0:30.0'],
			['K', '0:20.0'],
			[left, '0:15.0'],
			[right, '0:20.0'],
			[pageDown, '0:24.0'],
			[pageUp, '0:20.0'],
			[end, '0:39.9'],
			[home, '0:00.0'],
			['w12.5s\r', '0:12.5'],
		]);
		// A frame is 10 ms: the shown tenth changes with the tenth frame.
		for (let frame = 0; frame < 10; frame++) program.send('>');
		await program.until(heldAt('0:12.6'));
		for (let frame = 0; frame < 10; frame++) program.send('<');
		await program.until(heldAt('0:12.5'));
		program.send('wsoon\r');
		await program.until('"soon" is no time');
	});
});
