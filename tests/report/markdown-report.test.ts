import {describe, expect, it} from 'vitest';
import {markdownReport, mostCharacters} from '../../source/report/markdown-report.ts';
import {fingerView, sampleFinding, sampleInfo, sampleRun, sampleSnapshot} from './sample-run.ts';

const three = sampleRun(
	sampleSnapshot({
		verdict: 'fail',
		findings: [
			sampleFinding({first: true}),
			sampleFinding({
				code: 'dropout',
				channel: 'index',
				summary: 'index jumps 4 times by up to 60 % FS and comes back.',
			}),
			sampleFinding({code: 'stray-text', channel: null, status: 'maintenance', summary: '3 lines were no frames.'}),
		],
	}),
);

describe('the report for a chat', () => {
	it('tells verdict, findings with the next measurement, charts and link', () => {
		const text = markdownReport(three, {full: false});
		expect(text.split('\n')[0]).toBe('**FAIL**: 2 failures, 1 maintenance. 32 s of `left-glove.gbrec` (recording)');
		expect(text).toContain('1. DO FIRST **ring: floating-input** (failure), from 2.1 s, still there at the end');
		expect(text).toContain('Measure next: Volts from the input pin');
		expect(text).toMatch(/^thumb {5}[▁-█]+ 100…900, noise 1\.25, proven$/m);
		expect(text).toContain('Link: 3200 frames at 100 frames/s');
	});

	it('draws a rising channel as rising blocks', () => {
		const chart = /^thumb {5}([▁-█]+)/m.exec(markdownReport(three, {full: true}))?.[1] ?? '';
		expect(chart).toHaveLength(48);
		expect([...chart].sort().join('')).toBe(chart);
		expect(chart.at(0)).toBe('▁');
		expect(chart.at(-1)).toBe('█');
	});

	it.each([0, 1, 3, 8, 20, 60])('fits one message with %i findings, and tells how many it left out', count => {
		const findings = Array.from({length: count}, (_, i) =>
			sampleFinding({channel: `spare-${i}`, summary: `spare-${i} ${'wanders about '.repeat(8)}`}),
		);
		const channels = Array.from({length: 24}, (_, i) => fingerView(i, `spare-${i}`, {state: 'waiting'}));
		const text = markdownReport(sampleRun(sampleSnapshot({findings, channels, verdict: 'fail'})), {full: false});
		expect(text.length).toBeLessThanOrEqual(mostCharacters);
		const listed = text.match(/^\d+\. /gm)?.length ?? 0;
		const left = Number(/and (\d+) more finding/.exec(text)?.[1] ?? 0);
		expect(listed + left).toBe(count);
	});

	it('tells everything with --full', () => {
		const text = markdownReport(three, {full: true});
		expect(text).toContain('Evidence: rms 4.1 % FS');
		expect(text).toContain('- Unplugged: resistance from the input pin to the middle lug');
		expect(text).toContain('Caution: Unplug USB and battery');
	});

	it('warns beside the steps it tells, however little room there is, and of nothing where it tells none', () => {
		const many = Array.from({length: 40}, (_, i) => sampleFinding({code: `fault-${i}`, channel: `finger-${i}`}));
		for (const findings of [[sampleFinding()], many]) {
			const text = markdownReport(sampleRun(sampleSnapshot({findings})), {full: false});
			expect(text.includes('Caution: Measure volts with one hand')).toBe(text.includes('Measure next'));
			expect(text.length).toBeLessThanOrEqual(mostCharacters);
		}
	});

	it('shows the name of a file, not the folders it lies in', () => {
		const text = markdownReport(sampleRun(sampleSnapshot(), {...sampleInfo, name: '/home/someone/logs/left.gbrec'}), {
			full: false,
		});
		expect(text).toContain('`left.gbrec`');
		expect(text).not.toContain('someone');
	});

	it('lets device text become neither markup nor a mention', () => {
		const hostile = '](https://bad.example) `x` **b** @everyone <img src=x>';
		const text = markdownReport(
			sampleRun(
				sampleSnapshot({
					channels: [fingerView(0, '```@everyone')],
					findings: [sampleFinding({summary: hostile, evidence: {last: hostile}})],
				}),
			),
			{full: true},
		);
		expect(text.match(/```/g)).toHaveLength(2);
		const outside = text.replace(/```[\s\S]*```/, '').replace(/`[^`\n]*`/g, '');
		expect(outside).not.toContain('@');
		expect(outside).not.toContain('https://');
		expect(outside).not.toMatch(/(?<!\\)\*\*b/);
		expect(outside).not.toMatch(/(?<!\\)<img/);
	});
});
