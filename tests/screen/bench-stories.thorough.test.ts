import {readFileSync} from 'node:fs';
import path from 'node:path';
import {afterEach, describe, expect, it} from 'vitest';
import {BenchOnScreen, bellsIn, cordNames} from '../gloves/bench-on-screen.ts';

let bench: BenchOnScreen;
afterEach(() => bench.dispose());

describe.skipIf(process.platform === 'win32')('at a bench, with full hands', () => {
	it('reel by reel: each is named as it moves, proven with a bell, and DONE is said at the end', async () => {
		bench = new BenchOnScreen({open: [0, 1, 2, 3, 4, 5, 6]});
		await bench.start(['attach', '--page', 'bench', '--bell']);
		const {program, feeder} = bench;
		await program.until('still to wire (open: no fault): thumb, index, middle, ring, little');
		expect(program.text).toMatch(/ASSEMBLING {2}0 of \d proven/);
		// Nothing is wired: no fault, no alarm, and nothing has moved.
		expect(program.text).not.toMatch(/LOST|NEW failure|moves now|just moved/);
		for (const [cord, name] of cordNames.entries()) {
			feeder.open.delete(cord);
			await bench.pullUntil(cord, new RegExp(`${name} +✓ proven`));
			expect(program.text).toMatch(/(moves now|just moved|next) +[■□]/);
		}

		for (const axis of [5, 6]) feeder.open.delete(axis);
		const isProven = (name: string) => new RegExp(`${name} +✓ proven`).test(program.text);
		for (let turn = 0; turn < 8 && !(isProven('stick-x') && isProven('stick-y')); turn++) {
			for (const [x, y] of [
				[1, 0],
				[-1, 0],
				[0, 1],
				[0, -1],
			])
				feeder.push(x, y);
			await program.until(() => feeder.isIdle);
		}

		feeder.press(0, 2);
		feeder.press(1, 2);
		await program.until(/DONE {2}9 of 9 proven/);
		expect(program.text).toContain('Next: glovebench bringup');
		// As many as nine, fewer where two were proven at once.
		expect(bellsIn(program.raw)).toBeGreaterThanOrEqual(6);
		program.send('q');
		expect(await program.exited).toBe(0);
		expect(program.text).toContain('Nothing was recorded');
	});

	it('wrong reel: it is named beside the one that was asked, counts for nothing, and is taken only when told', async () => {
		bench = new BenchOnScreen();
		await bench.start(['bringup']);
		const {program, feeder} = bench;
		await program.until(/step 2 of 19.*\n NEXT {2}Thumb reel/);
		await bench.pullUntil(0, /step 3 of 19/);
		feeder.pull(3, 2);
		await program.until('RING moved, INDEX was asked. Wrong cord? pull INDEX.');
		expect(program.text.replace(/\s+/g, ' ')).toContain('Right cord? then the wires are crossed: enter.');
		expect(program.text).toContain('enter crossed');
		await bench.pullUntil(1, /step 4 of 19/);
		// Crossed: what answers for the middle finger is on the little one's pin.
		feeder.pull(4, 3);
		await program.until('LITTLE moved, MIDDLE was asked.');
		await program.until(() => feeder.isIdle);
		program.send('\r');
		await program.until(/middle +on little/);
		expect(program.text).toMatch(/step 5 of 19/);
		program.send('q');
		await program.exited;
		expect(program.text).toMatch(/Broken off: the same command goes on from here/);
	});

	it('cable out and in: PORT GONE, then on where it was, also after the program was killed', async () => {
		bench = new BenchOnScreen();
		await bench.start(['bringup']);
		const {program} = bench;
		await program.until(/step 2 of 19/);
		await bench.pullUntil(0, /step 3 of 19/);
		await bench.unplug();
		await program.until('PORT GONE');
		expect(program.text).toMatch(/NEXT {2}Index reel/);
		await bench.plugIn();
		await bench.pullUntil(1, /step 4 of 19/);
		// What is done is on the disk a moment after it is on the screen.
		const progress = path.join(bench.folder, 'as-built.progress.json');
		await program.until(() => readFileSync(progress, 'utf8').includes('reel index'));
		program.kill('SIGKILL');
		await program.exited;
		await bench.start(['bringup']);
		await bench.program.until(/step 4 of 19.*\n NEXT {2}Middle reel/);
	});
});
