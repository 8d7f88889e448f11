import {createHash} from 'node:crypto';
import {describe, expect, it} from 'vitest';
import type {EvidenceName} from '../../../source/faults/evidence.ts';
import {freezeCaption} from '../../../source/report/html/freeze-chart.ts';
import {htmlReport} from '../../../source/report/html/page.ts';
import {rawLines} from '../../../source/report/html/raw-lines.ts';
import {runSession} from '../../../source/session/run-session.ts';
import {demoSpec} from '../../../source/simulator/demo.ts';
import {simulatorSource} from '../../../source/sources/simulator-source.ts';
import type {Source} from '../../../source/stream/source.ts';
import {fingerView, sampleFinding, sampleInfo, sampleRun, sampleSnapshot} from '../sample-run.ts';
import {expectTextOnly} from './expect-page.ts';
import {hostile} from './sample-pages.ts';

const faulty = sampleRun(
	sampleSnapshot({
		verdict: 'fail',
		findings: [
			sampleFinding(),
			sampleFinding({code: 'stray-text', channel: null, status: 'maintenance', summary: '3 lines were no frames.'}),
		],
		stick: {
			x: 'thumb',
			y: 'index',
			restX: 510,
			restY: 515,
			reach: [0.9, 0.9, 0.9, 0.9, 0.9, 0.9, 0.9, 0.5],
			deadZone: 12,
		},
		events: [{t: 3, event: 'port-lost'}],
		marks: [{t: 2, mark: 'new cord'}],
	}),
);

describe('the page', () => {
	const page = htmlReport(faulty);

	it('tells verdict, what to measure next, findings with evidence, cautions, channels, stick, link, settings and raw lines', () => {
		for (const text of [
			'1 failure, 1 maintenance.',
			'What to do next, in this order',
			'Volts from the input pin to ground while the finger moves — follow the finger; an open wire drifts.',
			'The hand at a glance',
			'correlation with hand 0.03',
			'The readings just before it began.',
			'Unplug USB and battery before touching the wiring.',
			'Channels over time',
			'hatched: finding 1',
			'Thumb stick',
			'shortest 50 % of half scale',
			'Time between two frames',
			'115200 baud',
			'512,498,500,510,505,1',
			'new cord',
		]) {
			expect(page.includes(text), text).toBe(true);
		}
	});

	it('puts what to do next in the order of the findings', () => {
		const order = [...page.matchAll(/href="#finding-(\d+)"/g)].map(match => Number(match[1]));
		expect(order).toEqual([1, 2]);
		expect(page.indexOf('id="finding-1"')).toBeGreaterThan(-1);
	});

	it('loads and runs nothing: no script, no address, and a policy that would stop both', () => {
		expect(page).not.toMatch(/<script|javascript:|\son\w+\s*=|@import/i);
		expect(page).not.toMatch(/(?:src|href|action)\s*=\s*"(?!#)/i);
		expect(page).not.toMatch(/\sstyle=/);
		const policy =
			/http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1].replaceAll('&#39;', "'") ?? '';
		expect(policy).toContain("default-src 'none'");
		// The style element is let in by its hash alone (CSP level 2), worked out here once more.
		const style = /<style>([\s\S]*?)<\/style>/.exec(page)?.[1] ?? '';
		expect(policy).toContain(`style-src 'sha256-${createHash('sha256').update(style).digest('base64')}'`);
		expect(policy).not.toContain('unsafe');
	});

	it('lets text from the device be nothing but text', () => {
		const bad = htmlReport(
			sampleRun(
				sampleSnapshot({
					channels: [fingerView(0, hostile)],
					findings: [
						sampleFinding({
							channel: hostile,
							summary: hostile,
							evidence: {[hostile as EvidenceName]: hostile},
							advice: [hostile],
						}),
					],
					events: [{t: 1, event: hostile, detail: hostile}],
					marks: [{t: 1, mark: hostile}],
				}),
				{...sampleInfo, name: hostile, note: hostile, startedAt: hostile},
				`${hostile}\n`,
			),
		);
		expectTextOnly(bad);
	});

	it('is told from others by words and signs, not by colour alone', () => {
		expect(page).toContain('✗ FAIL');
		expect(page).toContain('✓ proven');
		expect(page).toContain('(failure)');
		expect(page).toContain('url(#hatch)');
		expect(page).toContain('stroke-dasharray');
		expect(page).toContain('prefers-color-scheme:dark');
		expect(page).toContain('@media print');
	});

	it('says what the readings beside a finding are: of its beginning, before, after, or of the report', () => {
		const frozen = {times: [10, 10.5, 11], series: []};
		expect(freezeCaption(frozen, 10.2, false)).toBe(
			'The second in which it began; the dashed upright line is its beginning.',
		);
		expect(freezeCaption(frozen, 11.3, true)).toBe('The readings just before it began, all channels.');
		expect(freezeCaption(frozen, 9.9, false)).toBe('The first readings after it began.');
		expect(freezeCaption(frozen, 2, false)).toBe('The second in which it was clear enough to be reported.');
	});

	it('keeps the numbers of findings apart that began together', () => {
		const both = htmlReport(
			sampleRun(sampleSnapshot({findings: [sampleFinding(), sampleFinding({code: 'dropout', status: 'out-of-spec'})]})),
		);
		const places = [...both.matchAll(/<text class="number" x="([\d.]+)"/g)].map(([, x]) => Number(x));
		expect(places).toHaveLength(2);
		// A digit of this size is six units wide.
		expect(places[1] - places[0]).toBeGreaterThanOrEqual(6);
	});

	it('asks to move what moves, and to press what is pressed', () => {
		const channels = sampleSnapshot().channels.map(channel => ({...channel, state: 'waiting' as const}));
		const page = htmlReport(sampleRun(sampleSnapshot({channels, verdict: 'unproven'})));
		expect(page.includes('○ UNPROVEN')).toBe(true);
		expect(page.includes('thumb, index, middle, ring and little (move them), button-1 (press it twice)')).toBe(true);
	});

	it('begins with what to do first, asks nothing of what was mended, and tells calmly what is not wired or not judged', () => {
		const mended = sampleFinding({code: 'stuck-mid', channel: 'index', to: 9, spans: [[2.1, 9]], mended: true});
		const page = htmlReport(
			sampleRun(
				sampleSnapshot({
					verdict: 'fail',
					findings: [mended, sampleFinding({first: true})],
					notes: ['1 input open: little'],
					checks: [{code: 'backlash', channel: 'ring', state: 'waiting', seen: 1, needed: 4, next: 'open and close'}],
				}),
			),
		);
		expect(page.match(/Do first:/g)).toHaveLength(1);
		expect(page.includes('1. DO FIRST ring: floating-input')).toBe(true);
		expect(page.includes('2. index: stuck-mid')).toBe(true);
		expect(page.includes('Mended: from 2.1 s to 9 s')).toBe(true);
		expect(page.match(/Measure, in this order/g)).toHaveLength(1);
		expect(page.includes('<p>1 input open: little.</p>')).toBe(true);
		expect(page.includes('Not judged yet: backlash on ring (open and close, 1 of 4 so far).')).toBe(true);
	});

	it('holds no figure that is none', () => {
		expect(page).not.toMatch(/NaN|undefined|Infinity|\[object/);
	});

	it('stands where nothing was read', () => {
		const {link} = sampleSnapshot();
		const nothing = htmlReport(
			sampleRun(
				sampleSnapshot({
					t: 0,
					layout: null,
					channels: [],
					link: {...link, frames: 0, bytes: 0, framesPerSecond: null, intervalMs: null, intervalHistogram: []},
				}),
				sampleInfo,
				'',
			),
		);
		expect(nothing).toContain('No frame was seen: nothing can be said.');
		expect(nothing).not.toMatch(/NaN|undefined|Infinity/);
	});

	it('cuts the first lines at their ends and shows what a terminal would obey', () => {
		const bytes = new TextEncoder().encode('1,2\r\n\u001b[2J\n3');
		expect(rawLines(bytes)).toEqual(['1,2', '\\x1b[2J', '3']);
	});
});

describe('the page of a long session', () => {
	it('stays within 500 kB however long the session was and however often faults came and went', async () => {
		const run = await runSession(simulatorSource(demoSpec(300), {paced: false}));
		expect(run.snapshot.findings.length).toBeGreaterThan(3);
		// The worst an hour can bring: a dozen faults that come and go every second.
		const spans = Array.from({length: 1800}, (_, i): [number, number] => [2 * i, 2 * i + 1]);
		const findings = run.snapshot.findings.flatMap(finding =>
			['one', 'two', 'three'].map(word => ({...finding, code: `${finding.code}-${word}`, spans})),
		);
		const long = {...run, snapshot: {...run.snapshot, t: 3600, findings: [...run.snapshot.findings, ...findings]}};
		for (const {snapshot, page} of [
			{snapshot: run.snapshot, page: htmlReport(run)},
			{snapshot: long.snapshot, page: htmlReport(long)},
		]) {
			// Whole pages are no help in a failure's message.
			expect(Buffer.byteLength(page)).toBeLessThan(500_000);
			expect(page.match(/<article/g)).toHaveLength(snapshot.findings.length);
			expect(/NaN|undefined|Infinity|\[object/.exec(page)).toBeNull();
		}
	});

	it('shows one reading of an hour that was not like the others, at its height', async () => {
		const perSecond = 20;
		const frames = 3600 * perSecond;
		const odd = 41_234;
		const encoder = new TextEncoder();
		const source: Source = {
			info: {kind: 'recording', name: 'hour.gbrec', timing: 'measured', baud: null},
			async *batches() {
				for (let i = 0; i < frames; i++) {
					// Five fingers near 300; one reading of the middle finger at 900.
					const middle = i === odd ? 900 : 300 + (i % 2);
					yield [{t: i / perSecond, bytes: encoder.encode(`301,302,${middle},303,300\n`)}];
				}
			},
			close: async () => undefined,
		};
		const run = await runSession(source, {session: {fullScale: 1023}});
		const page = htmlReport(run);
		const band = (name: string) =>
			new RegExp(`aria-label="${name} over time">(?:(?!<\\/svg>).)*?<path class="band" d="([^"]*)"`).exec(page)?.[1] ??
			'';
		const heights = (name: string) => [...band(name).matchAll(/[\d.]+,([\d.]+)/g)].map(([, y]) => Number(y));
		// The chart's field is 84 units high, from 100 at 0 up to 16 at full scale: 900 of 1023 is 26.1.
		expect(Math.min(...heights('middle'))).toBeCloseTo(100 - (84 * 900) / 1023, 0);
		expect(Math.min(...heights('index'))).toBeGreaterThan(70);
		expect(Buffer.byteLength(page)).toBeLessThan(100_000);
	});
});
