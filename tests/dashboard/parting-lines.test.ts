import {expect, it} from 'vitest';
import {partingLines} from '../../source/dashboard/parting-lines.ts';
import {sampleFinding, sampleSnapshot} from '../report/sample-run.ts';

it('leaves the verdict, what is left to prove, and what to do first', () => {
	expect(partingLines(sampleSnapshot(), null)).toEqual(['PASS: Nothing is wrong, and every channel is proven.']);
	const channels = sampleSnapshot().channels.map(channel =>
		channel.name === 'ring' ? {...channel, state: 'open' as const} : channel,
	);
	expect(partingLines(sampleSnapshot({verdict: 'unproven', channels, notes: ['1 input open: ring']}), null)).toEqual([
		'UNPROVEN: Nothing is wrong in what was seen; not yet proven: ring (wire it).',
		'1 input open: ring.',
	]);
	const findings = [sampleFinding({code: 'backlash', channel: 'thumb'}), sampleFinding({first: true})];
	expect(partingLines(sampleSnapshot({verdict: 'fail', findings}), 'left.gbrec')).toEqual([
		'left.gbrec: FAIL: 2 failures.',
		expect.stringMatching(/^Do first: ring: wiper wire open. Volts from the input pin/),
	]);
});
