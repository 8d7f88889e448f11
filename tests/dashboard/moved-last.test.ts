import {describe, expect, it} from 'vitest';
import {movedLast, movesNow} from '../../source/dashboard/moved-last.ts';
import {channelNamed, healthy, withChannel} from './sample-picture.ts';

const t = healthy.t;
const still = {
	...healthy,
	channels: healthy.channels.map(channel => ({...channel, movedItselfAt: null, movedBy: 0, state: 'proven' as const})),
};
const ring = withChannel(still, 'ring', {movedItselfAt: t - 1, movedBy: 0.6});

describe('movedLast', () => {
	it('names nothing before anything has moved by itself', () => {
		expect(movedLast(still, null)).toBeUndefined();
	});

	it('stays with the last movement, however long ago', () => {
		expect(movedLast({...ring, t: t + 600}, 'ring')?.name).toBe('ring');
		expect(movedLast(withChannel(ring, 'thumb', {movedItselfAt: t, movedBy: 0.1}), 'ring')?.name).toBe('thumb');
	});

	it('never names an open pin, nor what was lost', () => {
		for (const state of ['open', 'lost', 'learning'] as const) {
			const busy = withChannel(ring, 'little', {movedItselfAt: t, movedBy: 0.9, state});
			expect(movedLast(busy, null)?.name).toBe('ring');
		}
	});

	it('takes of several that moved together the one that went farthest, and keeps it until another clearly goes farther', () => {
		const both = withChannel(ring, 'little', {movedItselfAt: t - 0.8, movedBy: 0.7});
		expect(movedLast(both, null)?.name).toBe('little');
		expect(movedLast(both, 'ring')?.name).toBe('ring');
		expect(movedLast(withChannel(both, 'little', {movedBy: 0.95}), 'ring')?.name).toBe('little');
	});
});

it('tells a movement that is being made from one that is over', () => {
	expect(movesNow(channelNamed(ring, 'ring'), ring)).toBe(false);
	expect(movesNow(channelNamed(ring, 'ring'), {...ring, t: t - 0.5})).toBe(true);
});
