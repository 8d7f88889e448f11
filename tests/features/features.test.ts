import {describe, expect, it} from 'vitest';
import {ChannelRows} from '../../source/features/channel-rows.ts';
import {type Course, type Drawing, held} from '../gloves/draw.ts';
import {featuresOf, featuresOver, takeIn} from '../gloves/features-over.ts';

describe('a stick', () => {
	const axes = (...names: readonly string[]) =>
		featuresOf({channels: Object.fromEntries(names.map(name => [name, held(50)])), seconds: 0}).stick;

	it('is two axes, whichever is read first', () => {
		expect(axes('stick-x', 'stick-y', 'thumb')).toMatchObject({x: 0, y: 1});
		expect(axes('stick-y', 'stick-x', 'thumb')).toMatchObject({x: 1, y: 0});
	});

	it('is none with one axis, or without', () => {
		expect(axes('stick-x', 'thumb')).toBeNull();
		expect(axes('stick-y', 'thumb')).toBeNull();
		expect(axes('thumb')).toBeNull();
	});
});

describe('blocks of a quarter second', () => {
	/** So many frames, and then the end. */
	const blocksOf = (frames: number): number => {
		const features = featuresOf({channels: {thumb: held(50)}, seconds: 0});
		for (let n = 0; n < frames; n++) features.takeFrame(0.01 * n, Float64Array.of(500 + n), 20);
		features.closeBlock(0.25, true);
		return features.analog.rows.count;
	};

	it('hold three readings at the least, of which one second difference can be taken', () => {
		expect([0, 1, 2, 3, 4].map(blocksOf)).toEqual([0, 0, 0, 1, 1]);
	});

	it('are held from the first one on, and then the latest', () => {
		const drawing: Drawing = {channels: {thumb: held(50)}, rate: 32, noise: 0, seconds: 2};
		const {rows} = featuresOver(drawing).analog;
		expect([rows.count, rows.oldest]).toEqual([8, 0]);
		const seconds = ChannelRows.capacity / 4 + 2;
		const {rows: later} = featuresOver({...drawing, seconds}).analog;
		expect([later.count, later.oldest]).toEqual([ChannelRows.capacity + 8, 8]);
	});

	it.each<[string, Course, string]>([
		['a level that is held', held(50), '0000'],
		['a level that is another in the third block', t => (t < 0.5 ? 50 : 60), '0010'],
	])('tell a channel that moves: %s', (_, thumb, expected) => {
		const drawing: Drawing = {channels: {thumb}, noise: 0, seconds: 1};
		const features = featuresOf(drawing);
		let moving = '';
		for (let end = 0.25; end <= 1; end += 0.25) {
			takeIn(features, drawing, end - 0.25, end);
			const {rows} = features.analog;
			moving += rows.moving[rows.at(rows.count - 1, 0)];
		}
		expect(moving).toBe(expected);
	});
});
