import {expect, test} from 'vitest';
import {hasCauses, mayExplain} from '../../source/faults/causes.ts';

// Check-values D5.5: one cause gives one finding, the one nearest to the cause; a later one is not raised where an earlier one explains
// the same readings.

type Row = readonly [cause: string, on: string | null, code: string, channel: string | null, explains: boolean];
test.each<Row>([
	// On the same channel.
	['floating-input', 'ring', 'excess-noise', 'ring', true],
	['floating-input', 'ring', 'excess-noise', 'index', false],
	// Anywhere.
	['wrong-baud', null, 'dropout', 'ring', true],
	['port-lost', null, 'stall', null, true],
	// Of all fingers together it is one cause for each; one finger is none for all, nor for another.
	['settings-stale', null, 'settings-stale', 'ring', true],
	['settings-stale', null, 'settings-stale', null, false],
	['settings-stale', 'index', 'settings-stale', null, false],
	['settings-stale', 'index', 'settings-stale', 'ring', false],
	// Nothing explains its cause.
	['excess-noise', 'ring', 'floating-input', 'ring', false],
	['dropout', 'ring', 'wrong-baud', null, false],
])('%s on %s and %s on %s: one cause, or two (%s)', (code, on, other, channel, explains) => {
	expect(mayExplain({code, channel: on, status: 'failure'}, other, channel)).toBe(explains);
});

// Check-values D5.4: "right scale, right wiring?" is told at function-check only, hiding nothing else.
test.each([
	['failure', true],
	['function-check', false],
] as const)('a wrong full scale at %s explains what is found besides: %s', (status, explains) => {
	expect(mayExplain({code: 'wrong-full-scale', channel: null, status}, 'clipped-range', 'ring')).toBe(explains);
});

test('what nothing comes before has no cause', () => {
	expect([hasCauses('port-lost'), hasCauses('excess-noise')]).toEqual([false, true]);
});
