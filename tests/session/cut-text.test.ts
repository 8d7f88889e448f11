import {expect, test} from 'vitest';
import {cutText, isCut} from '../../source/session/cut-text.ts';

// Check-values D4: `cut` says that a recording breaks off.

type Events = Parameters<typeof isCut>[0];
const whole: Events = [
	{t: 0, event: 'session', detail: 'opera.gbrec: the second of two'},
	{t: 3, event: 'port-lost'},
];
const truncated = (detail?: string): Events => [
	...whole,
	{t: 9, event: 'truncated', ...(detail !== undefined && {detail})},
];

test.each<[string, Events, boolean, string]>([
	['nothing happened', [], false, ''],
	['what happened is no break-off', whole, false, ''],
	[
		'the reason without the name of the source',
		truncated('opera.gbrec: line 812 is half.'),
		true,
		'It is not whole: line 812 is half.',
	],
	['no reason given', truncated(), true, 'It is not whole: something is missing.'],
	['a reason of another source', truncated('puppet.gbrec: line 3.'), true, 'It is not whole: something is missing.'],
])('a recording that breaks off is said to be cut, with the reason: %s', (_title, events, cut, text) => {
	expect(isCut(events)).toBe(cut);
	expect(cutText(events, 'opera.gbrec')).toBe(text);
});
