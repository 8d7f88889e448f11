import {describe, expect, it} from 'vitest';
import {assemblyRows, movingNow} from '../../source/dashboard/assembly-rows.ts';
import {rowText} from '../../source/screen/rows.ts';
import {glyphs, healthy, makePicture, withChannel} from './sample-picture.ts';

const still = {...healthy, channels: healthy.channels.map(channel => ({...channel, activity: 0, moving: false}))};
const pulled = withChannel(withChannel(still, 'ring', {activity: 0.4}), 'little', {activity: 0.1});
const textOf = (snapshot: typeof healthy, width = 79, height = 18) =>
	assemblyRows(makePicture(snapshot), width, height, glyphs).map(rowText);

describe('the assembly page', () => {
	it('shows the channel that travels most as the largest thing on the screen', () => {
		expect(movingNow(pulled)?.name).toBe('ring');
		const rows = textOf(pulled);
		expect(rows[0]).toBe(' moves now');
		// At 79 columns the four letters of `ring` are ten rows high, more than half the page.
		for (const line of rows.slice(1, 11)) expect(line).toContain('██');
		expect(rows.filter(line => line.includes('[')).length).toBeGreaterThanOrEqual(2);
	});

	it('keeps the last one there while nothing moves, and says so', () => {
		expect(textOf(still)[0]).toBe(' moved last');
	});

	it('stays with the channel it shows while that moves, until another clearly travels more', () => {
		expect(movingNow(pulled, 'little')?.name).toBe('ring');
		const both = withChannel(pulled, 'little', {activity: 0.3});
		expect(movingNow(both, 'little')?.name).toBe('little');
		expect(movingNow(both, 'ring')?.name).toBe('ring');
		expect(movingNow(both)?.name).toBe('ring');
	});

	it('takes noise for no movement', () => {
		expect(movingNow(withChannel(still, 'ring', {activity: 0.019}))).toBeUndefined();
	});

	it('says what to do before anything has moved', () => {
		const fresh = {...still, channels: still.channels.map(channel => ({...channel, lastMovedAt: null}))};
		expect(textOf(fresh).join('\n')).toContain('Pull one cord');
	});

	it('lists what has been seen of every channel', () => {
		const list = textOf(pulled).slice(-3).join(' ');
		for (const {name} of healthy.channels) expect(list).toContain(name);
	});

	it('has exactly the height it was given, on every screen', () => {
		for (const [width, height] of [
			[59, 11],
			[79, 18],
			[139, 40],
			[199, 55],
		] as const) {
			expect(textOf(pulled, width, height)).toHaveLength(height);
		}
	});

	it('shows a pressed button as a full bar', () => {
		const button = {pressed: true, presses: 3, shortestPressMs: 80, bounces: 1};
		const rows = textOf(withChannel(still, 'button-1', {activity: 1, button}));
		expect(rows).toContainEqual(expect.stringContaining('presses 3   bounced 1'));
		expect(rows).toContainEqual(`  ${'█'.repeat(75)}`);
	});
});
