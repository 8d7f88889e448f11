import stringWidth from 'string-width';
import stripAnsi from 'strip-ansi';
import {describe, expect, it} from 'vitest';
import {findFault} from '../../source/faults/registry.ts';
import {textReport} from '../../source/report/text-report.ts';
import {mostPressingFirst} from '../../source/report/verdict-text.ts';
import {fingerNames, fingerView, sampleFinding, sampleInfo, sampleSnapshot} from './sample-run.ts';

const plain = {color: false, ascii: false};

/** The text without its line breaks. */
const flat = (text: string) => text.replace(/\s+/g, ' ');

const faulty = sampleSnapshot({
	verdict: 'fail',
	findings: [
		sampleFinding({code: 'stray-text', channel: null, status: 'maintenance', summary: '3 lines were no frames.'}),
		sampleFinding({first: true}),
	],
});

describe('the report for a terminal', () => {
	it('opens with the verdict', () => {
		expect(textReport(sampleSnapshot(), sampleInfo, plain).split('\n')[0]).toBe(
			'PASS: Nothing is wrong, and every channel is proven.',
		);
		expect(textReport(faulty, sampleInfo, plain).split('\n')[0]).toBe('FAIL: 1 failure, 1 maintenance.');
	});

	it('does not call a silent source healthy', () => {
		const {link} = sampleSnapshot();
		const nothing = sampleSnapshot({channels: [], layout: null, link: {...link, frames: 0, bytes: 0}});
		expect(textReport(nothing, sampleInfo, plain)).toContain('No frame was seen: nothing can be said.');
	});

	it('says what is left to prove and how, those that want the same together', () => {
		const left = sampleSnapshot({
			verdict: 'unproven',
			channels: [
				fingerView(0, 'thumb'),
				fingerView(1, 'index', {state: 'waiting'}),
				fingerView(2, 'middle', {state: 'waiting'}),
				fingerView(3, 'ring', {state: 'open'}),
				fingerView(4, 'stick-x', {role: 'stick', state: 'waiting'}),
				fingerView(5, 'button-1', {role: 'button', state: 'waiting'}),
				fingerView(6, 'spare-1', {role: 'spare', state: 'spare'}),
			],
		});
		expect(flat(textReport(left, sampleInfo, plain))).toMatch(
			/^UNPROVEN: Nothing is wrong in what was seen; not yet proven: index and middle \(move them\), ring \(wire it\), stick-x \(push it to both sides\), button-1 \(press it twice\)\. 32 s of/,
		);
		const faultyToo = {...left, verdict: 'fail', findings: [sampleFinding()]} as const;
		expect(flat(textReport(faultyToo, sampleInfo, plain))).toContain(
			'Not yet proven: index and middle (move them), ring',
		);
	});

	it('gives each finding its evidence and the next thing to measure, what to do first on top', () => {
		const text = textReport(faulty, sampleInfo, plain);
		expect(text).toContain('1. DO FIRST ring: floating-input (failure), from 2.1 s, still there at the end');
		expect(text).toContain('2. link: stray-text (maintenance)');
		expect(text.match(/DO FIRST/g)).toHaveLength(1);
		expect(text).toContain('Evidence: rms 4.1 % FS, correlation with hand 0.03, 80 % sure.');
		expect(flat(text)).toContain(
			'Measure next: Volts from the input pin to ground while the finger moves — follow the finger; an open wire drifts.',
		);
		expect(flat(text)).toContain('Caution: Measure volts with one hand');
		expect(text.match(/Caution:/g)).toHaveLength(1);
	});

	it('begins with what is first, tells open before over and causes before what follows from them', () => {
		const over = {to: 9, spans: [[2.1, 9]] as const};
		const findings = [
			sampleFinding({code: 'backlash', channel: 'index', status: 'maintenance', ...over, mended: true}),
			sampleFinding({code: 'stray-text', channel: null, status: 'function-check'}),
			sampleFinding({code: 'narrow-span', channel: 'little', status: 'out-of-spec', confidence: 0.99}),
			sampleFinding({code: 'narrow-span', channel: 'index', status: 'out-of-spec', confidence: 0.5}),
			sampleFinding({code: 'dropout', channel: 'ring', status: 'out-of-spec', ...over}),
			sampleFinding({code: 'floating-input', channel: 'middle', confidence: 0.5, first: true}),
			sampleFinding({code: 'stuck-mid', channel: 'thumb'}),
		];
		const text = textReport(sampleSnapshot({verdict: 'fail', findings}), sampleInfo, plain);
		expect([...text.matchAll(/^\d\. (.*?) \(/gm)].map(([, heading]) => heading)).toEqual([
			'DO FIRST middle: floating-input',
			'thumb: stuck-mid',
			'index: narrow-span',
			'little: narrow-span',
			'link: stray-text',
			'ring: dropout',
			'index: backlash',
		]);
		expect(mostPressingFirst(findings.toReversed(), sampleSnapshot().channels).map(({code}) => code)).toEqual(
			mostPressingFirst(findings, sampleSnapshot().channels).map(({code}) => code),
		);
	});

	it('warns once, and only of what the steps shown can do: no hot glue for a reel that is only looked at', () => {
		const {caution, measurements} = findFault('stuck-mid')!;
		const advice = measurements.map(({measure, expect: reads}) => `${measure} — ${reads}`);
		const stuck = {code: 'stuck-mid', cautions: [caution!], advice};
		const findings = [sampleFinding({...stuck, first: true}), sampleFinding({...stuck, channel: 'little'})];
		const text = flat(textReport(sampleSnapshot({verdict: 'fail', findings}), sampleInfo, plain));
		expect(text.match(/Caution:/g)).toHaveLength(1);
		expect(text.match(/numbness/g)).toHaveLength(1);
		expect(text).not.toMatch(/glue|iron|Unplug/);
	});

	it.each([60, 71, 72, 80, 120])('keeps within %i columns, never breaks a word, and uses what there is', columns => {
		const text = textReport(faulty, sampleInfo, {...plain, columns});
		const lines = text.split('\n');
		for (const line of lines) expect(stringWidth(line), line).toBeLessThanOrEqual(columns);
		expect(Math.max(...lines.map(line => stringWidth(line)))).toBeGreaterThan(columns - 14);
		const prose = (report: string) => report.split(/\nChannels \(/)[0].split(/\s+/);
		expect(prose(text)).toEqual(prose(textReport(faulty, sampleInfo, plain)));
	});

	it('tells what was mended as mended, last and without anything to do', () => {
		const mended = sampleFinding({code: 'stuck-mid', to: 9, spans: [[2.1, 9]], mended: true, first: true});
		const only = textReport(sampleSnapshot({findings: [mended]}), sampleInfo, plain);
		expect(only.split('\n')[0]).toBe('PASS: Nothing is wrong any more (1 mended), and every channel is proven.');
		expect(only).toContain('1. ring: stuck-mid (failure), mended: from 2.1 s to 9 s');
		expect(only).not.toMatch(/DO FIRST|Measure next|Caution/);
		const one = sampleFinding({code: 'backlash', status: 'maintenance', first: true});
		const both = textReport(
			sampleSnapshot({verdict: 'attention', findings: [{...mended, first: false}, one]}),
			sampleInfo,
			plain,
		);
		expect(both).toMatch(/^ATTENTION: 1 maintenance; 1 mended\.$/m);
		expect(both).toContain('1. DO FIRST ring: backlash');
		expect(both).toContain('2. ring: stuck-mid');
	});

	it('says calmly what is not wired, and which movements would show what is not judged yet', () => {
		const rows = ['narrow-span', 'backlash', 'baseline-drift', 'reversed-sensor'].flatMap(code =>
			fingerNames.map(
				channel =>
					({code, channel, state: 'waiting', seen: 0, needed: 4, next: 'open and close the whole hand'}) as const,
			),
		);
		const stick = {
			code: 'stick-no-return',
			channel: 'stick-x',
			state: 'waiting',
			seen: 0,
			needed: 3,
			next: 'push the stick and let go',
		} as const;
		const text = textReport(
			sampleSnapshot({
				checks: [...rows, stick, {...stick, state: 'clear', next: null, code: 'dropout'}],
				notes: ['2 inputs open: nothing wired yet (thumb and index)'],
			}),
			sampleInfo,
			plain,
		);
		expect(text).toContain('2 inputs open: nothing wired yet (thumb and index).');
		expect(flat(text)).toContain(
			'Not judged yet: 4 checks on all fingers (open and close the whole hand), stick-no-return on stick-x (push the stick and let go).',
		);
	});

	it('shows every channel and the link in figures', () => {
		const text = textReport(sampleSnapshot(), sampleInfo, plain);
		expect(text).toMatch(/^thumb {6}\S{16} {5}100…900 {4}800 {3}78 % {4}1\.25 {2}proven$/m);
		expect(text).toMatch(/^button-1 +3 presses, shortest 80 ms +proven$/m);
		// One fact to a line, each number with its unit.
		expect(
			text
				.split('Link\n')[1]
				.replaceAll(/\n {2,}/g, ' ')
				.trimEnd()
				.split('\n')
				.slice(0, 7),
		).toEqual([
			'3200 frames at 100 frames/s',
			'0 damaged lines',
			'0 lines of other text',
			'from frame to frame 10 ms in the median, 10.4 ms at the 95th percentile, 11 ms at the 99th, 14.3 ms at most',
			'jitter 0.313 ms (RFC 3550)',
			'76,800 bytes',
			'2400 bytes/s, 21 % of what 115200 baud can carry',
		]);
	});

	it('says that a log without times cannot tell about the link', () => {
		const {link} = sampleSnapshot();
		const text = textReport(
			sampleSnapshot({link: {...link, framesPerSecond: null, intervalMs: null, jitterMs: null, bytesPerSecond: null}}),
			{...sampleInfo, kind: 'log', timing: 'assumed'},
			plain,
		);
		expect(text).toContain('The log has no times, or none fine enough: the timing of the link is not judged.');
	});

	it('keeps to 80 columns', () => {
		for (const color of [false, true]) {
			for (const line of textReport(faulty, sampleInfo, {color, ascii: false}).split('\n')) {
				expect(stringWidth(line), line).toBeLessThanOrEqual(80);
			}
		}
	});

	it('says the same without colour', () => {
		const colored = textReport(faulty, sampleInfo, {color: true, ascii: false});
		expect(colored).toContain('\u001b[');
		expect(stripAnsi(colored)).toBe(textReport(faulty, sampleInfo, plain));
	});

	it('draws with ASCII alone when asked to', () => {
		const text = textReport(faulty, sampleInfo, {color: false, ascii: true});
		expect(text).toMatch(/^[\n\x20-\x7e]*$/);
		expect(text).toMatch(/^thumb {6}[.#]{16} {4}100\.\.900/m);
	});

	it('lets no control sequence of the device through', () => {
		// ECMA-48 sequences of check-values E5: title, clear, clipboard, 8-bit CSI; and a direction override (E6).
		const hostile = '\u001b]0;x\u0007\u001b[2J\u009b31m\u202eabc';
		const text = textReport(
			sampleSnapshot({
				verdict: 'fail',
				channels: [fingerView(0, hostile)],
				findings: [sampleFinding({channel: hostile, summary: hostile, evidence: {last: hostile}})],
				events: [{t: 1, event: 'port-lost', detail: hostile}],
				marks: [{t: 2, mark: hostile}],
			}),
			{...sampleInfo, name: hostile},
			plain,
		);
		expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202e]/);
		expect(text).toContain('\\x1b[2J');
	});
});
