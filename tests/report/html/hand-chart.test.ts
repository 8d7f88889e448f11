import {describe, expect, it} from 'vitest';
import {handCharts} from '../../../source/report/html/hand-chart.ts';
import type {ChannelView} from '../../../source/session/snapshot.ts';
import {fingerNames, fingerView} from '../sample-run.ts';

const fingers = fingerNames.map((name, index) => fingerView(index, name));
const of = (role: ChannelView['role'], ...names: string[]) =>
	names.map((name, index) => fingerView(10 + index, name, {role}));

/** What a screen reader says of each row. */
const rows = (channels: readonly ChannelView[]) =>
	handCharts(channels).map(({text}) =>
		(/aria-label="([^"]*)"/.exec(text)?.[1] ?? '').split(', ').map(label => label.split(' ')[0]),
	);

describe('the hand at a glance', () => {
	it('has fingers with fingers, and axes with buttons', () => {
		expect(rows([...fingers, ...of('stick', 'stick-x', 'stick-y'), ...of('button', 'button-1', 'button-2')])).toEqual([
			[...fingerNames],
			['stick-x', 'stick-y', 'button-1', 'button-2'],
		]);
	});

	it('has a row to a hand, and one for many buttons', () => {
		const buttons = Array.from({length: 6}, (_, i) => `button-${i + 1}`);
		expect(rows([...fingers, ...fingers, ...of('stick', 'stick-x', 'stick-y'), ...of('button', ...buttons)])).toEqual([
			[...fingerNames],
			[...fingerNames],
			['stick-x', 'stick-y'],
			buttons,
		]);
	});

	it('is nothing where there is no channel to show', () => {
		expect(rows(of('spare', 'extra'))).toEqual([]);
	});
});
