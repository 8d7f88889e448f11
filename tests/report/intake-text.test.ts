import {describe, expect, it} from 'vitest';
import {checkJson} from '../../source/report/check-json.ts';
import {htmlReport} from '../../source/report/html/page.ts';
import {intakeOf} from '../../source/report/intake-text.ts';
import {markdownReport} from '../../source/report/markdown-report.ts';
import {textReport} from '../../source/report/text-report.ts';
import {runSession, type SessionRun} from '../../source/session/run-session.ts';
import {openLog} from '../../source/sources/log/log-source.ts';
import {gloveRows} from '../sources/log/disguised.ts';
import {expectToKeepTo} from './published-schema.ts';

const rows = gloveRows(400);
const boot = ['marionette glove ready', 'reading EEPROM... done'];

async function run(lines: readonly string[], part?: number): Promise<SessionRun> {
	const text = Buffer.from(`${lines.join('\n')}\n`);
	const source = await openLog({
		name: 'glove.txt',
		chunks: (async function* () {
			yield text;
		})(),
	});
	return runSession(source, part === undefined ? {} : {part});
}

const flat = (text: string): string => text.replaceAll(/\s+/g, ' ');

describe('the intake', () => {
	it('opens every report: columns, what was taken out, how much', async () => {
		const line = (row: readonly number[], i: number): string =>
			`\u001b[32mI (${10 * i}) glove: ${['Q1', 'Q2', 'Q3', 'Q4', 'Q5'].map((name, c) => `${name}:${row[c]}`).join(' ')} laugh:${row[7]} temp:${21}\u001b[0m`;
		const done = await run([...rows.slice(0, 200).map(line), 'and now the other one', ...rows.slice(200).map(line)]);
		const read =
			'Read as text (blanks), 7 columns: thumb = "Q1", index = "Q2", middle = "Q3", ring = "Q4", little = "Q5" in order, because no list knows their labels; laugh because they have two values; temp by label, not judged; times from the log.';
		const out =
			'Taken out or left out: terminal colours (400 lines), what stands before the readings (date, host, program, level, port, name) (400 lines), lines that are no frames (1 line).';
		const {snapshot, info} = done;
		expect(intakeOf(snapshot, info).lines).toEqual([read, out]);
		expect(flat(textReport(snapshot, info, {color: false, ascii: false}))).toContain(`${read} ${out}`);
		expect(flat(htmlReport(done))).toContain(read.replaceAll('"', '&quot;'));
		expect(markdownReport(done, {full: true})).toContain('7 columns: thumb');
		const json = checkJson(snapshot, info);
		expectToKeepTo('check', JSON.parse(JSON.stringify(json)));
		expect(json.intake.leftOut).toEqual([
			{what: 'terminal colours', lines: 400},
			{what: 'what stands before the readings (date, host, program, level, port, name)', lines: 400},
			{what: 'lines that are no frames', lines: 1},
		]);
		expect(json.layout.channels.map(({readAs}) => readAs)).toEqual([
			...[1, 2, 3, 4, 5].map(n => `in order: no list knows its label "Q${n}"`),
			'two values under the label "laugh"',
			'by its label "temp"',
		]);
	});

	it('counts a header once, and its repetitions every hundred lines, as what they are', async () => {
		const header = 'thumb,index,middle,ring,little,sx,sy,b1,b2';
		const lines = rows.flatMap((row, i) => (i % 100 === 0 ? [header, row.join()] : [row.join()]));
		const {snapshot, info} = await run(lines);
		expect(intakeOf(snapshot, info).leftOut).toEqual([
			{what: 'a header line', lines: 1},
			{what: 'a header that is repeated', lines: 3},
		]);
		expect(snapshot.findings).toEqual([]);
	});

	it('says what to send where there is too little', async () => {
		const few = await run(rows.slice(0, 20).map(row => row.join()));
		expect(few.snapshot.verdict).toBe('unproven');
		expect(intakeOf(few.snapshot, few.info).odd).toEqual([
			'Too little to judge (only 20 frames): send 20 s with three fists, each finger once, the stick round twice, each button twice.',
		]);
		const still = await run(rows.map(() => '512,498,600,712,433'));
		expect(intakeOf(still.snapshot, still.info).odd).toEqual([
			'Too little to judge (nothing moved): send 20 s with three fists, each finger once.',
		]);
		const four = await run(rows.slice(0, 4).map(row => row.join()));
		expect(four.snapshot.verdict).toBe('unproven');
	});
});

describe('two gloves by turns', () => {
	it('keep the names of one hand in JSON, with the hand beside them', async () => {
		const other = gloveRows(800).slice(400);
		const done = await run(
			rows.flatMap((row, i) => [`G1: ${row.slice(0, 7).join()}`, `G2: ${other[i].slice(0, 7).join()}`]),
		);
		const json = checkJson(done.snapshot, done.info);
		expectToKeepTo('check', json);
		const names = ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y'];
		const told = [...names.map(name => [name, 'a']), ...names.map(name => [name, 'b'])];
		expect(json.layout.channels.map(({name, hand}) => [name, hand])).toEqual(told);
		expect(json.channels.map(({name, hand}) => [name, hand])).toEqual(told);
		for (const {channel, hand} of json.checks) if (channel !== null) expect(['a', 'b']).toContain(hand);
	});
});

describe('a log of two sessions', () => {
	const two = [
		...boot,
		...rows.slice(0, 300).map(row => row.join()),
		...boot,
		...rows.slice(300).map(row => row.join()),
	];

	it('is about the last one, in seconds from its start, and lists both', async () => {
		const {snapshot, info} = await run(two);
		expect(snapshot.link.frames).toBe(100);
		expect(snapshot.t).toBeCloseTo(1.01, 6);
		const json = checkJson(snapshot, info);
		expect(json.sessions.map(({index, from, verdict}) => ({index, from, verdict}))).toEqual([
			{index: 1, from: 0, verdict: 'unproven'},
			{index: 2, from: 3.02, verdict: 'unproven'},
		]);
		expect(json.source.durationSeconds).toBeCloseTo(4.03, 6);
		expectToKeepTo('check', JSON.parse(JSON.stringify(json)));
		expect(intakeOf(snapshot, info).lines.at(-1)).toMatch(
			/^2 sessions \(start-up text comes again\): 1 0 s to 3\.01 s, 300 frames, UNPROVEN; 2 3\.02 s to 4\.03 s, 100 frames.*This is about session 2, in seconds from its start; --session N tells of another\.$/,
		);
	});

	it('gives the one that is asked for, just as that part alone would be', async () => {
		const first = await run(two, 1);
		const alone = await run([...boot, ...rows.slice(0, 300).map(row => row.join())]);
		expect(first.snapshot.channels).toEqual(alone.snapshot.channels);
		expect(first.snapshot.link.frames).toBe(300);
		await expect(run(two, 3)).rejects.toThrow('--session 3: glove.txt holds 2 sessions');
	});

	it('ends where the columns change for good, with the lines that showed it in the second', async () => {
		const changed = [...rows.map(row => row.join()), ...rows.map(row => row.slice(0, 5).join(';'))];
		const {snapshot, info} = await run(changed);
		expect(snapshot.link.frames).toBe(400);
		expect(snapshot.channels).toHaveLength(5);
		expect(info.sessions?.map(({frames, endedBy}) => [frames, endedBy])).toEqual([
			[400, 'the columns change'],
			[400, ''],
		]);
	});
});
