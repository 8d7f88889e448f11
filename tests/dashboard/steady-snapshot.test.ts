import {describe, expect, it} from 'vitest';
import {steadySnapshot} from '../../source/dashboard/steady-snapshot.ts';
import {channelNamed, healthy, makeFinding, withChannel} from './sample-picture.ts';

const shown = steadySnapshot(
	undefined,
	withChannel(healthy, 'ring', {now: 500, restNoise: 1, moving: false, activity: 0}),
);
const next = (fields: object, t = shown.t + 0.1) => ({...withChannel(shown, 'ring', fields), t});
const ringOf = (snapshot: typeof healthy) => channelNamed(snapshot, 'ring');

describe('steadySnapshot', () => {
	it('holds a resting channel’s figure within its noise', () => {
		expect(ringOf(steadySnapshot(shown, next({now: 502}))).now).toBe(500);
		expect(ringOf(steadySnapshot(shown, next({now: 506}))).now).toBe(506);
	});

	it('lets a moving channel through as it is', () => {
		expect(ringOf(steadySnapshot(shown, next({now: 501, moving: true}))).now).toBe(501);
	});

	it('holds rates within a hundredth and jitter within a tenth', () => {
		const link = {...shown.link, recentFramesPerSecond: 100, jitterMs: 1};
		const later = {...link, recentFramesPerSecond: 100.9, jitterMs: 1.2};
		const steady = steadySnapshot({...shown, link}, {...shown, link: later}).link;
		expect(steady.recentFramesPerSecond).toBe(100);
		expect(steady.jitterMs).toBe(1.2);
	});

	it('never holds back findings, events or presses', () => {
		const findings = [makeFinding()];
		const button = {pressed: true, presses: 1, shortestPressMs: null, bounces: 0};
		const steady = steadySnapshot(shown, {...withChannel(shown, 'button-1', {button}), findings});
		expect(steady.findings).toBe(findings);
		expect(channelNamed(steady, 'button-1').button).toBe(button);
	});

	it('starts afresh after a seek back or another layout', () => {
		expect(ringOf(steadySnapshot(shown, next({now: 501}, shown.t - 5))).now).toBe(501);
		const other = {...next({now: 501}), layout: {...shown.layout!}};
		expect(ringOf(steadySnapshot(shown, other)).now).toBe(501);
	});

	it('is one and the same value while nothing to be seen changes', () => {
		const first = steadySnapshot(shown, shown);
		expect(steadySnapshot(first, next({now: 501, mean: 3, activity: 0.01}))).toEqual(first);
	});
});
