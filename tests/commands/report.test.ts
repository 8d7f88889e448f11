import {existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, afterEach, beforeAll, beforeEach, describe, expect, it} from 'vitest';
import {validateXML} from 'xmllint-wasm';
import {checkCommand} from '../../source/commands/check.ts';
import {compareCommand} from '../../source/commands/compare.ts';
import {type ReportOptions, reportCommand} from '../../source/commands/report.ts';
import {simulateCommand} from '../../source/commands/simulate.ts';
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {openSource} from '../../source/sources/open-source.ts';
import {runCaptured} from './run-captured.ts';

const recording = (name: string) => new URL(`../../recordings/${name}.gbrec`, import.meta.url).pathname;

/** Any element whose name is svg, in its namespace (SVG 1.1, section 5.1); the parser sees to the rest. */
const anySvg = `<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://www.w3.org/2000/svg">
<xs:element name="svg"><xs:complexType mixed="true"><xs:sequence><xs:any processContents="skip" minOccurs="0" maxOccurs="unbounded"/></xs:sequence><xs:anyAttribute processContents="skip"/></xs:complexType></xs:element></xs:schema>`;

let folder: string;
const before = process.cwd();

beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'glovebench-report-'));
});

afterAll(() => rmSync(folder, {recursive: true}));

// Pages go into the current folder unless another place is named.
beforeEach(() => process.chdir(folder));
afterEach(() => process.chdir(before));

const report = (options: ReportOptions) => runCaptured(reportCommand, options);

/** A sample bring-up as `bringup --record` keeps one: with a mark where a step was asked for. */
async function markedBringUp(): Promise<string> {
	const file = path.join(folder, 'visit.gbrec');
	if (existsSync(file)) return file;
	const source = await openSource(recording('bringup-swapped-reversed'));
	const writer = await RecordingWriter.create(file, {source: source.info});
	writer.write({t: 0, mark: 'bring-up: rest'});
	for await (const batch of source.batches()) for (const item of batch) writer.write(item);
	await writer.close();
	return file;
}

describe('report', () => {
	it('makes the page of one recording that check --html makes, in the current folder, and says so', async () => {
		const {status, text, talk} = await report({recording: recording('floating-input')});
		expect(text).toMatch(/^FAIL: 1 failure\.\n$/);
		expect(talk).toMatch(/^The page is in floating-input\.html \(\d+ kB\)\.\n$/);
		expect(status).toBe(1);
		const checked = await runCaptured(checkCommand, {source: recording('floating-input'), html: 'checked.html'});
		expect(checked.status).toBe(1);
		expect(readFileSync('floating-input.html', 'utf8') === readFileSync('checked.html', 'utf8')).toBe(true);
	});

	it('makes the page of two recordings that compare --html makes', async () => {
		const [a, b] = [recording('dropout'), recording('healthy')];
		const {status, text, talk} = await report({recording: a, second: b});
		expect(text).toMatch(/^BETTER: "intermittent contact" on ring is gone/);
		expect(talk).toContain('dropout-and-healthy.html');
		expect(status).toBe(0);
		expect((await runCaptured(compareCommand, {a, b, html: 'compared.html'})).status).toBe(0);
		expect(readFileSync('dropout-and-healthy.html', 'utf8') === readFileSync('compared.html', 'utf8')).toBe(true);
	});

	it('tells a recorded bring-up by its marks, and makes the page of that', async () => {
		const {status, text} = await report({recording: await markedBringUp(), output: 'visit.html'});
		expect(text).toMatch(/^FAIL: .*"another finger answered"/);
		expect(status).toBe(1);
		expect(readFileSync('visit.html', 'utf8').includes('What was asked, and what answered')).toBe(true);
	});

	it('writes each chart of the page as a whole SVG file of its own', async () => {
		const {talk} = await report({recording: recording('dropout'), svg: 'charts'});
		const files = readdirSync('charts').sort();
		expect(talk).toContain(`${files.length} charts are in charts.\n`);
		const page = readFileSync('dropout.html', 'utf8');
		expect(page.match(/<svg [^>]*role="img"/g)).toHaveLength(files.length);
		expect(files.slice(0, 2)).toEqual([
			expect.stringMatching(/^01-thumb-proven-index-proven/),
			expect.stringMatching(/^02-stick-x-/),
		]);
		expect(files.some(file => /^\d+-ring-over-time/.test(file))).toBe(true);
		for (const file of files) {
			const text = readFileSync(path.join('charts', file), 'utf8');
			// What is drawn stands on the page, too; what it is drawn with stands in the file.
			expect(page).toContain(/fill="#fff"\/>(.*)<\/svg>\n$/s.exec(text)?.[1]);
			expect(text).not.toMatch(/<script|xlink|href=/);
			// The namespace alone: nothing is loaded.
			expect(text.match(/https?:/g)).toHaveLength(1);
		}

		// SVG 1.1 is XML: an independent parser reads every one of them.
		const {errors} = await validateXML({
			xml: files.map(fileName => ({fileName, contents: readFileSync(path.join('charts', fileName), 'utf8')})),
			schema: anySvg,
		});
		expect(errors).toEqual([]);
	});

	it('draws the same charts of two recordings, keeps a file that is no chart, and says where no folder can be', async () => {
		await report({recording: recording('narrow-span'), second: recording('healthy'), svg: 'both'});
		expect(readdirSync('both')).toContain('01-range-of-every-channel-in-a-and-in-b-percent-of-full-scale.svg');
		writeFileSync(path.join('both', '01-range-of-every-channel-in-a-and-in-b-percent-of-full-scale.svg'), 'mine');
		await expect(
			report({recording: recording('narrow-span'), second: recording('healthy'), svg: 'both'}),
		).rejects.toThrow(/is there already and is no chart/);
		writeFileSync('occupied', 'mine');
		await expect(report({recording: recording('dropout'), svg: 'occupied'})).rejects.toThrow(
			/^Cannot make the folder occupied/,
		);
	});

	it('prints the page alone with -o -', async () => {
		const {text, talk} = await report({recording: recording('healthy'), output: '-'});
		expect(text.startsWith('<!doctype html>')).toBe(true);
		expect(text.trimEnd().endsWith('</html>')).toBe(true);
		expect(talk).toBe('');
	});

	it('reads standard input', async () => {
		const stdin = '512,498,500,510,505\n'.repeat(300);
		const piped = await runCaptured(reportCommand, {recording: '-', output: 'piped.html'}, {stdin});
		expect(piped.status).toBe(0);
		expect(piped.text).toMatch(/^UNPROVEN: /);
		expect(existsSync('piped.html')).toBe(true);
	});

	it('makes a page anew, and leaves every other file as it is', async () => {
		writeFileSync('notes.txt', 'measured by hand');
		await expect(report({recording: recording('healthy'), output: 'notes.txt'})).rejects.toThrow(
			/notes\.txt is there already and is no page/,
		);
		expect(readFileSync('notes.txt', 'utf8')).toBe('measured by hand');
		const log = path.join(folder, 'own.gbrec');
		await runCaptured(simulateCommand, {output: log, for: 3, seed: 1});
		const bytes = readFileSync(log);
		await expect(report({recording: log, output: log})).rejects.toThrow(/is no page/);
		await expect(runCaptured(checkCommand, {source: log, html: log})).rejects.toThrow(/is no page/);
		expect(readFileSync(log).equals(bytes)).toBe(true);
		await report({recording: log, output: 'again.html'});
		await report({recording: log, output: 'again.html'});
	});

	it('says what it cannot do', async () => {
		await expect(report({recording: '/dev/ttyUSB0'})).rejects.toThrow(
			/not ports: glovebench check \/dev\/ttyUSB0 --html/,
		);
		await expect(report({recording: 'tcp://127.0.0.1:1'})).rejects.toThrow(/not ports/);
		await expect(report({recording: '-', second: '-'})).rejects.toThrow('Standard input can be one of the two only');
		await expect(report({recording: 'missing.gbrec'})).rejects.toThrow(/missing\.gbrec/);
	});
});
