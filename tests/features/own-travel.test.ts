import {describe, expect, it} from 'vitest';
import {type Course, fists, sessionOver} from '../gloves/draw.ts';

// Whether a channel has travel of its own: an open pin copies the channel read before it by a gain of 0.3 to 0.98 (check-values
// D5.4) and shows nothing else in motion than at rest.

const thumb = fists({open: 20, closed: 50, times: 8, period: 4});
const shareOf =
	(gain: number): Course =>
	t =>
		30 + gain * (thumb(t) - 20);
const late: Course = t => 30 + 0.8 * (thumb(t - 0.06) - 20);

/** The index finger is noisy, by 3 % FS rms. */
const index = (course: Course, seconds = 33) =>
	sessionOver({channels: {thumb, index: course}, seconds, noise: {index: 3}}).features.ownTravel;

describe('travel of a noisy channel', () => {
	it('is its own where it goes farther than the channel before it', () => {
		expect(index(shareOf(1.4)).isOwn(1)).toBe(true);
		expect(index(shareOf(1.4)).isBorrowed(1)).toBe(false);
	});

	it('is its own where it comes later', () => {
		expect(index(late).isOwn(1)).toBe(true);
	});

	it('is borrowed where all of it is a share of that of the channel before it', () => {
		expect(index(shareOf(0.6)).isOwn(1)).toBe(false);
		expect(index(shareOf(0.6)).isBorrowed(1)).toBe(true);
	});

	it('is neither before three strokes have been seen', () => {
		expect(index(shareOf(1.4), 4.2).ratio(1)).toBeUndefined();
		expect(index(shareOf(0.6), 4.2).isBorrowed(1)).toBe(false);
	});
});
