import {expect, test} from 'vitest';
import type {ChannelView, Finding} from '../../source/session/snapshot.ts';
import {calmNotes, verdictOf} from '../../source/session/verdict.ts';
import {fingerView} from '../report/sample-run.ts';

// Check-values D4: what weighs is every open finding, and every closed one that is intermittent by nature; `pass` means proven.

type Told = Pick<Finding, 'code' | 'channel' | 'status' | 'to'>;
const told = (code: string, status: Finding['status'], to: number | null, channel: string | null = 'ring'): Finding =>
	({code, channel, status, to}) satisfies Told as Finding;
const hand = (...changes: Partial<ChannelView>[]): ChannelView[] =>
	changes.map((change, index) => fingerView(index, `c${index}`, change));

test.each<[string, Finding[], ChannelView[], number, string]>([
	['everything proven', [], hand({}, {}), 100, 'pass'],
	['a finger that has not moved', [], hand({}, {state: 'waiting'}), 100, 'unproven'],
	['no frame', [], hand(), 0, 'unproven'],
	['a failure', [told('stuck-mid', 'failure', null)], hand({}), 100, 'fail'],
	['out of spec', [told('narrow-span', 'out-of-spec', null)], hand({}), 100, 'fail'],
	['maintenance', [told('baseline-drift', 'maintenance', null)], hand({}), 100, 'attention'],
	['a question', [told('floating-input', 'function-check', null)], hand({}), 100, 'attention'],
	['a constant fault that is over', [told('stuck-mid', 'failure', 9)], hand({}), 100, 'pass'],
	[
		'the same, and a finger that has not moved',
		[told('narrow-span', 'out-of-spec', 9)],
		hand({state: 'waiting'}),
		9,
		'unproven',
	],
	['a fault that comes and goes, over for now', [told('dropout', 'out-of-spec', 9)], hand({}), 100, 'fail'],
	[
		'maintenance, and a failure that is over',
		[told('baseline-drift', 'maintenance', null), told('stuck-mid', 'failure', 9)],
		hand({}),
		100,
		'attention',
	],
])('the verdict on %s', (_title, findings, channels, frames, verdict) => {
	expect(verdictOf(findings, channels, frames)).toBe(verdict);
});

// Check-values D5.2: while no finger is proven open pins are one calm line.
test.each<[string, ChannelView[], Finding[], string[]]>([
	['nothing is open', hand({}, {state: 'waiting'}), [], []],
	['nothing is wired', hand({state: 'open'}, {state: 'open'}), [], ['2 inputs open: nothing wired yet (c0 and c1)']],
	['one is open beside a proven finger', hand({}, {state: 'open'}), [], ['1 input open: c1']],
	['what a finding tells of', hand({}, {state: 'open'}), [told('floating-input', 'failure', null, 'c1')], []],
	[
		'what a finding told of that is over',
		hand({}, {state: 'open'}),
		[told('floating-input', 'failure', 9, 'c1')],
		['1 input open: c1'],
	],
	[
		'another finding on it',
		hand({}, {state: 'open'}),
		[told('stuck-low', 'failure', null, 'c1')],
		['1 input open: c1'],
	],
	['one that was lost is no open input', hand({}, {state: 'lost'}), [], []],
])('open pins are one calm line: %s', (_title, channels, findings, notes) => {
	expect(calmNotes(channels, findings)).toEqual(notes);
});
