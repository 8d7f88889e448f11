import {mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import parseMetrics from 'parse-prometheus-text-format';
import {afterAll, beforeAll, describe, expect, it} from 'vitest';
import {validateXML} from 'xmllint-wasm';
import {checkCommand} from '../../source/commands/check.ts';
import {type CheckedSource, junitXml} from '../../source/report/junit.ts';
import {openMetrics} from '../../source/report/openmetrics.ts';
import {checkSample} from '../gloves/check-sample.ts';
import {sampleFinding, sampleInfo, sampleSnapshot} from './sample-run.ts';

let folder: string;
beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'machines-'));
});
afterAll(() => rmSync(folder, {recursive: true}));

const hostile = 'a<b>"&\u001b[2J\u0000\u202e\\ \n]]>';

async function sources(): Promise<CheckedSource[]> {
	const names = ['stuck-mid', 'lost-frames', 'stray-text'];
	const read = await Promise.all(names.map(async name => ({name: `${name}.gbrec`, ...(await checkSample(name))})));
	return [...read, {name: `/tmp/${hostile}`, why: `${hostile} is not there.`}];
}

describe('JUnit XML', () => {
	/** As the published schema has it: element and attribute names, their order, and what is required. */
	const schema = readFileSync(new URL('junit-suite.xsd', import.meta.url), 'utf8');

	async function expectValid(suite: string): Promise<void> {
		const {errors} = await validateXML({xml: [{fileName: 'suite.xml', contents: suite}], schema: [schema]});
		expect(errors).toEqual([]);
	}

	it('is a valid suite for each source: one test case for every check, and as many as it says', async () => {
		const all = await sources();
		const suites = junitXml(all).match(/<testsuite [\s\S]*?<\/testsuite>/g)!;
		expect(suites).toHaveLength(all.length);
		for (const [i, suite] of suites.entries()) {
			await expectValid(suite);
			const source = all[i];
			const [, tests, errors, skipped, failures] = /tests="(\d+)" errors="(\d+)" skipped="(\d+)" failures="(\d+)"/
				.exec(suite)!
				.map(Number);
			expect(suite.match(/<testcase /g)).toHaveLength(tests);
			expect(suite.match(/<skipped /g) ?? []).toHaveLength(skipped);
			expect(suite.match(/<failure /g) ?? []).toHaveLength(failures);
			expect(suite.match(/<error /g) ?? []).toHaveLength(errors);
			if ('why' in source) {
				expect(errors).toBe(1);
				continue;
			}

			const {checks, findings} = source.snapshot;
			expect(tests).toBe(checks.length);
			expect(skipped).toBe(checks.filter(({state}) => state === 'waiting').length);
			expect(failures).toBe(findings.filter(({status}) => status === 'failure' || status === 'out-of-spec').length);
		}
	});

	it('of one source is one suite, and tells in the failed case what to measure', async () => {
		const [stuck] = await sources();
		const text = junitXml([stuck]);
		await expectValid(text);
		expect(text).toMatch(/<testcase name="little: stuck-mid \(stuck in between\)"[^>]*><failure type="failure"/);
		expect(text).toContain('Measure next: Bend the finger and watch cord, spool and shaft');
	});

	it('stays valid whatever a device said, and lets maintenance pass as the exit status does', async () => {
		const findings = [
			sampleFinding({summary: hostile, channel: hostile, advice: [hostile]}),
			sampleFinding({code: 'stray-text', status: 'maintenance', channel: null, summary: hostile}),
		];
		const text = junitXml([
			{name: hostile, snapshot: sampleSnapshot({findings}), info: {...sampleInfo, name: hostile}},
		]);
		await expectValid(text);
		expect(text.match(/<failure /g)).toHaveLength(1);
		expect(text).toContain('<system-out>maintenance: ');
	});

	it('goes to a file beside the report, which is made anew, but not over anything else', async () => {
		const io = {
			stdin: process.stdin,
			stdout: {write: () => true},
			stderr: {write: () => true},
			signal: new AbortController().signal,
		};
		const junit = path.join(folder, 'rig.xml');
		const source = new URL('../../recordings/healthy.gbrec', import.meta.url).pathname;
		expect(await checkCommand({source, junit}, io as never)).toBe(0);
		expect(await checkCommand({source, more: [source], junit}, io as never)).toBe(0);
		expect(readFileSync(junit, 'utf8')).toMatch(/^<\?xml [\s\S]*<testsuites>/);
		writeFileSync(path.join(folder, 'mine.txt'), 'mine');
		await expect(checkCommand({source, junit: path.join(folder, 'mine.txt')}, io as never)).rejects.toThrow(
			/no JUnit file/,
		);
		await expect(checkCommand({source, junit, follow: true}, io as never)).rejects.toThrow(/--follow writes no JUnit/);
	});
});

describe('OpenMetrics text', () => {
	it('is read back by an independent parser: rate, jitter, loss and findings by code, one label a source', async () => {
		const text = openMetrics(await sources());
		const families = new Map(parseMetrics(text).map(family => [family.name, family]));
		const readings = (name: string, labels: Record<string, string>) =>
			families
				.get(name)
				?.metrics.filter(metric => Object.entries(labels).every(([key, value]) => metric.labels?.[key] === value))
				.map(({value}) => Number(value));
		const lost = (await checkSample('lost-frames')).snapshot;
		const source = {source: 'lost-frames.gbrec'};
		expect(readings('glovebench_frames_total', source)).toEqual([lost.link.frames]);
		expect(readings('glovebench_frames_per_second', source)).toEqual([lost.link.framesPerSecond]);
		expect(readings('glovebench_jitter_seconds', source)![0]).toBeCloseTo(lost.link.jitterMs! / 1000, 9);
		expect(readings('glovebench_lost_frames_ratio', source)![0]).toBeCloseTo(0.0432, 4);
		expect(readings('glovebench_findings', {...source, code: 'lost-frames'})).toEqual([1]);
		expect(readings('glovebench_findings', {...source, code: 'stuck-mid'})).toEqual([0]);
		expect(readings('glovebench_findings', {source: 'stuck-mid.gbrec', code: 'stuck-mid'})).toEqual([1]);
		expect(readings('glovebench_verdict', {...source, glovebench_verdict: 'fail'})).toEqual([1]);
		expect(readings('glovebench_read', {})).toEqual([1, 1, 1, 0]);
	});

	it('keeps to what 1.0 asks beyond the older form: units, totals, whole families, an end', async () => {
		// OpenMetrics 1.0: a family's metadata comes before its samples, each family once; a name ends with its unit, a
		// counter's sample with _total; the last line is # EOF. The whole text was read once by the reference parser,
		// prometheus_client 0.26.0 (openmetrics.parser), without complaint.
		const lines = openMetrics(await sources()).split('\n');
		expect(lines.slice(-2)).toEqual(['# EOF', '']);
		const seen = new Set<string>();
		let family = '';
		let type = '';
		for (const line of lines.slice(0, -2)) {
			const [, declared, kind] = /^# TYPE (\S+) (\w+)$/.exec(line) ?? [];
			if (declared !== undefined) {
				expect(seen.has(declared), declared).toBe(false);
				seen.add(declared);
				[family, type] = [declared, kind];
				continue;
			}

			const [, unit] = /^# UNIT \S+ (\w+)$/.exec(line) ?? [];
			if (unit !== undefined) expect(family.endsWith(`_${unit}`)).toBe(true);
			if (line.startsWith('#')) continue;
			const suffix = {counter: '_total', info: '_info'}[type] ?? '';
			expect(line).toMatch(
				new RegExp(`^${family}${suffix}\\{(?:[a-z_]+="(?:[^"\\\\\\n]|\\\\["\\\\n])*",?)+\\} -?[\\d.e+-]+$`),
			);
		}
	});

	it('goes with no other form of the report', async () => {
		for (const other of [{json: true}, {markdown: true}, {reply: true}, {follow: true}])
			await expect(checkCommand({source: 'x', openmetrics: true, ...other}, {} as never)).rejects.toThrow(
				/--openmetrics prints metrics/,
			);
	});
});
