import {describe, expect, it} from 'vitest';
import {LinkDelay} from '../../source/dashboard/link-delay.ts';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {healthy} from './sample-picture.ts';

const layout = {...healthy.layout!, channels: [{index: 0, name: 'clock', role: 'clock', clockUnitSeconds: 0.001}]};

/** A state at `t` whose newest frame was sent at `sent` by the board's clock. */
const state = (t: number, sent: number): Snapshot =>
	({
		...healthy,
		t,
		layout,
		channels: [{...healthy.channels[0], role: 'clock', now: 1000 * sent}],
		link: {...healthy.link, silentForSeconds: 0},
	}) as Snapshot;

describe('LinkDelay', () => {
	it('tells how late frames are against the quickest of the last ten seconds', () => {
		const delay = new LinkDelay();
		// The board was switched on 100 s before; its frames take 20 ms, then half a second, then 20 ms again.
		for (let t = 0; t < 5; t += 0.1) expect(delay.take(state(t, 100 + t - 0.02))).toBeNull();
		expect(delay.take(state(5.5, 105.5 - 0.52))).toBeCloseTo(0.5, 6);
		expect(delay.take(state(6, 106 - 0.02))).toBeNull();
	});

	it('takes no slow board clock for a delay', () => {
		const delay = new LinkDelay();
		for (let t = 0; t < 120; t += 0.1) expect(delay.take(state(t, t * 0.995))).toBeNull();
	});

	it('begins afresh when the board does, and when a replay goes elsewhere', () => {
		const delay = new LinkDelay();
		for (let t = 0; t < 5; t += 0.1) delay.take(state(t, 100 + t));
		expect(delay.take(state(6, 0.3))).toBeNull();
		expect(delay.take(state(7, 1.3))).toBeNull();
		expect(delay.take(state(500, 400))).toBeNull();
	});

	it('says nothing where the board sends no clock', () => {
		expect(new LinkDelay().take(healthy)).toBeNull();
	});
});
