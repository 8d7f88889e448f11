import stringWidth from 'string-width';
import stripAnsi from 'strip-ansi';
import {describe, expect, it} from 'vitest';
import {textReport} from '../../source/report/text-report.ts';
import {fingerView, sampleFinding, sampleInfo, sampleSnapshot} from './sample-run.ts';

const plain = {color: false, ascii: false};

const faulty = sampleSnapshot({
	verdict: 'fail',
	findings: [
		sampleFinding({code: 'stray-text', channel: null, status: 'maintenance', summary: '3 lines were no frames.'}),
		sampleFinding(),
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

	it('names the channels that nothing has been proven about', () => {
		const waiting = sampleSnapshot({
			channels: [fingerView(0, 'thumb'), fingerView(1, 'index', {proven: false, state: 'waiting'})],
		});
		const text = textReport(waiting, sampleInfo, plain);
		expect(text).toContain('PASS: Nothing is wrong in what was seen.');
		expect(text).toContain('Not proven: index.');
	});

	it('gives each finding its evidence and the next thing to measure, worst first', () => {
		const text = textReport(faulty, sampleInfo, plain);
		expect(text).toContain('1. ring: floating-input (failure), from 2.1 s, still there at the end');
		expect(text).toContain('2. link: stray-text (maintenance)');
		expect(text).toContain('Evidence: rms 4.1 % FS, correlation with hand 0.03, 80 % sure.');
		expect(text.replace(/\n\s+/g, ' ')).toContain(
			'Measure next: Volts from the input pin to ground while the finger moves — follow the finger; an open wire drifts.',
		);
		expect(text).toContain('Caution: Unplug USB and battery before touching the wiring.');
		expect(text.match(/Caution:/g)).toHaveLength(1);
	});

	it('shows every channel and the link in figures', () => {
		const text = textReport(sampleSnapshot(), sampleInfo, plain);
		expect(text).toMatch(/^thumb {6}\S{16} {5}100…900 {4}800 {3}78 % {4}1\.25 {2}proven$/m);
		expect(text).toMatch(/^button-1 +3 presses, shortest 80 ms +proven$/m);
		expect(text).toContain('3200 frames at 100 frames/s, 76,800 bytes; 0 bad lines, 0 stray lines');
		expect(text.replace(/\n\s+/g, ' ')).toContain(
			'interval 10 ms median, 10.4 p95, 11 p99, 14.3 most; jitter 0.313 ms (RFC 3550)',
		);
		expect(text).toContain('2400 bytes/s, 21 % of 115200 baud');
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
		// ECMA-48 sequences of facts E5: title, clear, clipboard, 8-bit CSI; and a direction override (E6).
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
