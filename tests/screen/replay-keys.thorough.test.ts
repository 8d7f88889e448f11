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

const left = '\u001B[D';

describe('a replay', () => {
	it('plays at the speed of the keys 1 to 9, holds, and cycles', async () => {
		program = glovebench(['replay', 'left.gbrec', '--hold'], {cwd: folder});
		await program.until(heldAt('0:00.0'));
		for (const [key, speed] of [...'123456789'].map(
			(digit, index) => [digit, [0.1, 0.25, 0.5, 1, 2, 5, 10, 30, 100][index]] as const,
		)) {
			program.send(key);
			await program.until(`held ${speed}x `);
		}

		program.send('y ');
		// At 100x the forty seconds are over in less than one; cycling, it begins again by itself.
		await program.until(/play 100x loop {2}0:3\d/);
		await program.until(/play 100x loop {2}0:0\d/);
		program.send(' ');
		await program.until('held 100x loop');
	});

	it('plays two recordings together, side by side or one at a time', async () => {
		program = glovebench(['replay', 'left.gbrec', 'right.gbrec', '--hold', '--at', '22s'], {cwd: folder});
		await program.until(/left\.gbrec .*glove 1\/2 recording 0:22/);
		program.send('g');
		await program.until(/right\.gbrec .*glove 2\/2 recording 0:22/);
		program.resize(140, 36);
		await program.until(/left\.gbrec .*glove 1\/2 recording 0:22 │ right\.gbrec/);
		program.send(left);
		await program.until(/glove 1\/2 recording 0:17 │ .*glove 2\/2 recording 0:17/);
	});

	it('zooms and moves a held trend of several channels', async () => {
		program = glovebench(['replay', 'left.gbrec', '--hold', '--at', '28s', '--page', 'trend'], {cwd: folder});
		await program.until(/ 20 s {2}── ring/);
		program.send('\u001B[B');
		program.send('\r');
		program.send('\u001B[B');
		await program.until(/── index {2}━━ thumb/);
		program.send('-');
		await program.until(/^ (?!20 s)\d+ \S+ {2}──/m);
		program.send('+');
		await program.until(/ 20 s {2}──/);
	});
});
