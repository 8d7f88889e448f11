import {describe, expect, it} from 'vitest';
import {barChannels, channelHead, channelRow, handChannels, worstOpen} from '../../source/dashboard/channel-rows.ts';
import type {Status} from '../../source/faults/fault-code.ts';
import {rowText, rowWidth} from '../../source/screen/rows.ts';
import type {ChannelView} from '../../source/session/snapshot.ts';
import {channelNamed, faulty, glyphs, healthy, makeFinding} from './sample-picture.ts';

const ring: ChannelView = {
	...channelNamed(healthy, 'ring'),
	fullScale: 1023,
	now: 512,
	min: 103,
	max: 900,
	usableLow: 103,
	usableHigh: 900,
	span: 797,
	restNoise: 1.24,
	state: 'proven',
};

const options = {width: 79, glyphs, changedLast: false, selected: false, snapshot: {...healthy, findings: []}};

const found = (status: Status) => ({...options, snapshot: {...healthy, findings: [makeFinding({status})]}});

describe('channelRow', () => {
	it('says in one line what is known of a channel', () => {
		const text = rowText(channelRow(ring, ring, options));
		expect(text).toMatch(/^ {2}ring {5}\S+ {3}512 {5}103–900 {3}±1\.2 {2}✓ proven {2}$/);
	});

	it('is exactly as wide as its head at every width', () => {
		for (const width of [59, 66, 72, 79, 96, 139, 199]) {
			expect(rowWidth(channelRow(ring, ring, {...options, width}))).toBe(width);
			expect(rowWidth(channelHead(width, [ring], glyphs))).toBe(width);
		}
	});

	it('moves the bar at once, the figures with the steady snapshot', () => {
		const text = rowText(channelRow({...ring, now: 900}, ring, options));
		expect(text).toContain(' 512 ');
		expect(text).not.toContain('░');
	});

	it('names the worst open finding’s status by its letter', () => {
		expect(rowText(channelRow({...ring, state: 'faulty'}, ring, found('out-of-spec')))).toMatch(/ S faulty {2}$/);
	});

	it.each(['proven', 'waiting', 'open', 'lost', 'faulty', 'learning', 'spare'] as const)(
		'writes the state %s out',
		state => {
			expect(rowText(channelRow({...ring, state}, ring, options)).trimEnd()).toMatch(new RegExp(` [✓·○!~ ] ${state}$`));
			// Of a channel that is learning nothing else is judged; an open pin, lost or not, says enough by itself.
			if (state === 'learning' || state === 'open' || state === 'lost') return;
			expect(rowText(channelRow({...ring, state}, ring, found('maintenance'))).trimEnd()).toMatch(
				new RegExp(` M ${state}$`),
			);
		},
	);

	it('draws an open pin no louder than one that waits: while wiring it is no fault', () => {
		const tone = (state: ChannelView['state']) => channelRow({...ring, state}, ring, options).at(-1)?.tone;
		expect(tone('open')).toBe(tone('waiting'));
		expect(tone('lost')).toBe('alert');
	});

	it('points at what changed last', () => {
		expect(rowText(channelRow(ring, ring, {...options, changedLast: true}))[0]).toBe(glyphs.pointer);
		expect(rowText(channelRow(ring, ring, options))[0]).toBe(' ');
	});

	it('shows dashes before anything has come', () => {
		const none: ChannelView = {
			...ring,
			now: Number.NaN,
			min: Number.NaN,
			max: Number.NaN,
			span: null,
			usableLow: null,
			usableHigh: null,
			restNoise: null,
			state: 'waiting',
		};
		expect(rowText(channelRow(none, none, options))).toMatch(/·+ {5}– {11}– {6}– {2}· waiting $/);
	});
});

describe('which channels are meant', () => {
	it('bars are for fingers, the pointer for whatever a hand moves', () => {
		expect(barChannels(healthy).map(({name}) => name)).toEqual(['thumb', 'index', 'middle', 'ring', 'little']);
		expect(handChannels(healthy)).toHaveLength(9);
	});

	it('the worst finding is the open one of the gravest status', () => {
		const findings = [
			makeFinding({code: 'backlash', status: 'maintenance'}),
			makeFinding({code: 'dropout', status: 'out-of-spec'}),
			makeFinding({code: 'stuck-mid', status: 'failure', to: 12}),
			makeFinding({code: 'floating-input', channel: 'little'}),
		];
		expect(worstOpen({...healthy, findings}, 'ring')?.code).toBe('dropout');
		expect(worstOpen({...healthy, findings}, 'thumb')).toBeUndefined();
		expect(worstOpen(faulty, 'ring')?.code).toBe('floating-input');
	});
});
