import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {playGlove} from '../dashboard/play-glove.ts';
import {GlovesOnScreen} from './gloves-on-screen.ts';

let screen: GlovesOnScreen;
beforeEach(() => {
	screen = new GlovesOnScreen();
});
afterEach(() => screen.dispose());

describe('a live glove', () => {
	it('shows the channel that is pulled in letters as high as five lines', async () => {
		const pulled = playGlove({
			seconds: 60,
			finger: (index, t) => (index === 2 && t > 0.5 ? 500 + 400 * Math.sin(6 * t) : 200 + 10 * index),
		});
		const program = screen.start(['attach', await screen.gloves.serve(pulled), '--page', 'bench']);
		await program.until(
			text => /(moves now|just moved) /.test(text) && /middle +✓ proven/.test(text) && text.includes('q quit'),
		);
		const rows = program.lines.filter(line => /^ +██/.test(line));
		expect(rows.length).toBeGreaterThanOrEqual(5);
	});

	it('sends no colour with NO_COLOR, and says the same', async () => {
		const program = screen.start(['attach', await screen.gloves.serve()], {env: {NO_COLOR: '1'}});
		await program.until(/little +\S*[[█]/);
		expect(program.raw).not.toMatch(/\u001B\[[\d;]*\b(3\d|4\d|9\d|38|48)[\d;]*m/);
	});

	it('is told line by line to a screen reader, without any control sequence', async () => {
		const program = screen.start(['attach', await screen.gloves.serve(), '--screen-reader']);
		await program.until('Frames arrive: thumb, index');
		program.send('o');
		await program.until('little ');
		program.send('q');
		expect(await program.exited).toBe(0);
		expect(program.raw).not.toContain('\u001B');
	});

	it('never gets a control sequence of its own to the terminal', async () => {
		const hostile = '\u001B]0;owned\u0007\u001B[2J\u001B[31m\u009B5n\u202Edebug \u001B]52;c;eA==\u0007\r\n';
		const items = playGlove({seconds: 60}).map((item, index) =>
			index > 0 && index % 50 === 0 ? {t: item.t, bytes: Buffer.from(hostile)} : item,
		);
		const program = screen.start(['attach', await screen.gloves.serve(items), '--page', 'link']);
		await program.until(/stray [1-9]|bad +[1-9]/);
		program.send('f');
		await program.until('open first');
		for (const part of ['\u001B]', '\u0007', '\u009B', '\u202E', '\u001B[31m']) expect(program.raw).not.toContain(part);
	});
});
