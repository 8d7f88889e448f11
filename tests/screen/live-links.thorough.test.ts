import {afterEach, beforeEach, describe, expect, it} from 'vitest';
import {floatingRing, playGlove} from '../dashboard/play-glove.ts';
import {GlovesOnScreen} from './gloves-on-screen.ts';

let screen: GlovesOnScreen;
beforeEach(() => {
	screen = new GlovesOnScreen();
});
afterEach(() => screen.dispose());

describe('a live glove', () => {
	it('rings for a new finding when asked to, and never else', async () => {
		const address = await screen.gloves.serve(
			playGlove({...floatingRing, finger: (index, _t, noise) => (index === 3 ? 480 + 60 * noise() : undefined)}),
		);
		const program = screen.start(['attach', address]);
		await program.until(/NEW failure/);
		expect(program.raw).not.toContain('\u0007');
		const ringing = screen.start(['attach', address, '--bell']);
		await ringing.until(/NEW failure/);
		expect(ringing.raw).toContain('\u0007');
	});

	it('stands beside a second one, each with its own session', async () => {
		const shaky = playGlove({
			seconds: 60,
			finger: (index, _t, noise) => (index === 0 ? 500 + 60 * noise() : undefined),
		});
		const [one, other] = [await screen.gloves.serve(), await screen.gloves.serve(shaky)];
		const program = screen.start(['attach', one, other], {columns: 140, rows: 36});
		await program.until(/glove 1\/2 live .*│.*glove 2\/2 live/);
		// The right one's thumb shakes; the left one's does not.
		await program.until(/ thumb .*(proven|waiting) .*│.* thumb .*[○F] open/);
		program.resize(80, 24);
		await program.until('glove 1/2');
		program.send('g');
		await program.until('glove 2/2');
	});

	it('shows the newest frame at once when a terminal that had stopped reads again', async () => {
		let counts = 200;
		const address = await screen.gloves.serveLines(() => () => {
			// A slow rise on one finger: what is shown tells how old it is.
			counts = counts >= 900 ? 200 : counts + 1;
			return `${counts},300,300,300,300,511,512,1,1\r\n`;
		});
		const program = screen.start(['attach', address]);
		const shown = () => Number(/thumb +\S+ +(\d+)/.exec(program.text)?.[1]);
		await program.until(() => shown() > 250 && shown() < 400);
		program.pause();
		const from = counts;
		while (counts < from + 300) await new Promise(resolve => setTimeout(resolve, 20));
		const written = program.raw.length;
		program.resume();
		// Numbers stand for a quarter of a second: 25 counts, and as much again for a busy machine.
		await program.until(() => Math.abs(counts - shown()) < 60);
		// Not the three seconds' worth of frames: what the line's buffer held, and one frame.
		expect(program.raw.length - written).toBeLessThan(20_000);
	});

	it('stands still while the picture is held, and forgets ranges when told to', async () => {
		const program = screen.start(['attach', await screen.gloves.serve()]);
		await program.until(/thumb .* \d{2,3}–[5-9]\d\d/);
		program.send(' ');
		await program.until('HELD');
		program.send(' ');
		await program.until(text => !text.includes('HELD'));
		program.send('z');
		await program.until('Select a channel first');
		program.send('Z');
		await program.until('Forgotten of all channels: range');
	});
});
