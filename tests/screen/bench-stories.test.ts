import {afterEach, describe, expect, it} from 'vitest';
import {BenchOnScreen, bellsIn, cordNames} from '../gloves/bench-on-screen.ts';

let bench: BenchOnScreen;
afterEach(() => bench.dispose());

describe.skipIf(process.platform === 'win32')('at a bench, with full hands', () => {
	it('a wiper breaks off after its proof: LOST, by name, inverse, with two bells', async () => {
		bench = new BenchOnScreen();
		await bench.start(['attach', '--page', 'bench', '--bell']);
		const {program, feeder} = bench;
		await program.until(/thumb +· waiting/);
		for (const cord of [0, 1, 3]) await bench.pullUntil(cord, new RegExp(`${cordNames[cord]} +✓ proven`));
		const before = bellsIn(program.raw);
		feeder.open.add(3);
		await program.until('LOST  RING was proven and is an open pin now');
		await program.until(/ring +! lost/);
		expect(program.raw).toMatch(/\u001B\[[\d;]*\b7m LOST/);
		await program.until(() => bellsIn(program.raw) >= before + 2);
		// The overview says the same.
		program.send('o');
		await program.until(text => text.includes('counts') && text.includes('LOST  RING was proven'));
	});
});
