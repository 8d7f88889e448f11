import {describe, expect, it} from 'vitest';
import type {Output} from '../../source/command-line/command-io.ts';
import {Countdown} from '../../source/report/countdown.ts';
import {fingerView, sampleInfo, sampleSnapshot} from './sample-run.ts';

const port = {...sampleInfo, kind: 'serial', name: '/dev/ttyUSB0'} as const;

function terminal(isTTY = true, columns = 100) {
	const written: string[] = [];
	const output = {isTTY, columns, write: (text: string) => written.push(text) > 0} as unknown as Output;
	return {output, written};
}

describe('the countdown of a port', () => {
	it('says what it waits for, from the first byte to the last finger, and counts down once a second', () => {
		const {output, written} = terminal();
		const countdown = new Countdown(output, port, 20);
		expect(written[0]).toMatch(/^Reading \/dev\/ttyUSB0 for 20 s: rest the hand, make four fists/);
		expect(written[1]).toContain('20 s left, waiting for the first byte');
		const silent = sampleSnapshot({channels: [], link: {...sampleSnapshot().link, frames: 0, bytes: 0}});
		countdown.show({t: 1.02, snapshot: () => silent});
		countdown.show({t: 1.1, snapshot: () => silent});
		expect(written.slice(2)).toEqual(['\r19 s left, waiting for the first byte\u001b[K']);
		const some = sampleSnapshot({channels: [fingerView(0, 'ring', {state: 'waiting'})]});
		countdown.show({t: 8.5, snapshot: () => some});
		expect(written.at(-1)).toContain('12 s left, 3200 frames, to prove: ring (move it)');
		countdown.show({t: 20, snapshot: () => sampleSnapshot()});
		expect(written.at(-1)).toContain('0 s left, 3200 frames, all proven');
		countdown.clear();
		expect(written.at(-1)).toBe('\r\u001b[K');
	});

	it('keeps to one row of the terminal', () => {
		const {output, written} = terminal(true, 40);
		const many = sampleSnapshot({
			channels: Array.from({length: 9}, (_, i) => fingerView(i, `f${i}`, {state: 'waiting'})),
		});
		new Countdown(output, port, 20).show({t: 3, snapshot: () => many});
		const line = written.at(-1)!.replace('\r', '').replace('\u001b[K', '');
		expect(line.length).toBeLessThan(40);
		expect(line).toMatch(/…$/);
	});

	it('writes nothing where there is no terminal', () => {
		const {output, written} = terminal(false);
		const countdown = new Countdown(output, port, 20);
		countdown.show({t: 1, snapshot: () => sampleSnapshot()});
		countdown.clear();
		expect(written).toEqual([]);
	});
});
