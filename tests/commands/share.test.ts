import {readFileSync, statSync, symlinkSync, writeFileSync} from 'node:fs';
import {gunzipSync} from 'node:zlib';
import {beforeAll, describe, expect, it} from 'vitest';
import {type ShareOptions, shareCommand} from '../../source/commands/share.ts';
import {simulateCommand} from '../../source/commands/simulate.ts';
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {runSession} from '../../source/session/run-session.ts';
import {openSource} from '../../source/sources/open-source.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {bytesOf, readAll} from '../sources/reading.ts';
import {runCaptured} from './run-captured.ts';

const {at, path: folder} = testFolder();
const long = at('long.gbrec');
const log = at('log.txt');
const personal = at('personal.gbrec');
let copies = 0;
const newName = (end = '.gbrec') => at(`copy-${++copies}${end}`);

const share = (options: ShareOptions, signal?: AbortSignal) =>
	runCaptured(shareCommand, options, {...(signal && {signal})});

async function findingsOf(path: string) {
	const {snapshot} = await runSession(await openSource(path));
	return snapshot.findings.map(({code, channel}) => `${code} ${channel}`).sort();
}

beforeAll(async () => {
	// Just over the two minutes up to which nothing is cut.
	const fault = ['floating-input:ring@70s-90s'];
	await runCaptured(simulateCommand, {output: long, for: 130, seed: 5, rate: 50, fault});
	await runCaptured(simulateCommand, {output: log, for: 20, seed: 5, stamp: true, fault: ['stuck-low:index']});
	const source = await openSource(at('long.gbrec'));
	const writer = await RecordingWriter.create(personal, {
		source: {kind: 'serial', name: '/dev/serial/by-id/usb-Bridge_A50285BI-if00', timing: 'measured', baud: 115_200},
		note: 'for Aunt Wilhelmine',
		sheet: {name: 'fox of the Lindenhof', note: 'hall 3', board: {family: 'atmega328p'}, channels: []},
		startedAt: new Date('2025-03-01T18:00:00Z'),
	});
	writer.write({t: 0, event: 'dtr', detail: '/dev/serial/by-id/usb-Bridge_A50285BI-if00 raised DTR'});
	writer.write({t: 0, bytes: Buffer.from('Fox glove 3, serial 0042\r\n')});
	for await (const batch of source.batches()) {
		for (const item of batch) if (item.t < 20) writer.write(item);
	}

	writer.write({t: 20, mark: 'Wilhelmine lets go'});
	await writer.close();
	const [header = '', ...rest] = readFileSync(personal, 'utf8').split('\n');
	const extended = header.replace('"kind":"serial"', '"kind":"serial","serialNumber":"A50285BI"');
	writeFileSync(personal, [extended, ...rest].join('\n'));
});

describe('share', () => {
	it('cuts a long recording to what its findings need, and finds the same in it', async () => {
		const output = newName('.gbrec.gz');
		const {status, talk} = await share({recording: long, output});
		expect(status).toBe(0);
		const found = await findingsOf(long);
		expect(found).toContain('floating-input ring');
		expect(await findingsOf(output)).toEqual(found);
		expect(talk).toContain(`Findings: ${found.length} before, ${found.length} in the copy.`);
		expect(statSync(output).size).toBeLessThan(statSync(long).size / 8);
		expect(talk).toContain(
			`Size: ${statSync(long).size.toLocaleString('en')} bytes before, ${statSync(output).size.toLocaleString('en')} in the copy.`,
		);
		expect(gunzipSync(readFileSync(output)).toString('utf8', 0, 15)).toBe('{"glovebench":1');
	});

	it('leaves nothing of the person, the computer and the day in the copy, and lists what it removed', async () => {
		const output = newName();
		const {talk} = await share({recording: personal, output});
		const text = readFileSync(output, 'utf8');
		expect(readFileSync(personal, 'utf8')).toMatch(/Wilhelmine.*\n/);
		expect(text).not.toMatch(/A50285BI|Wilhelmine|Lindenhof|hall 3|2025-03|personal|serial\/by-id/);
		for (const line of [
			"the source's name: /dev/serial/by-id/usb-Bridge_A50285BI-if00",
			'date and time of its start: 2025-03-01T18:00:00.000Z',
			'the note: for Aunt Wilhelmine',
			'a mark made while recording',
			'details of an event of the link',
			"the glove's name in the sheet: fox of the Lindenhof",
			"the sheet's note: hall 3",
			'from the header: source.serialNumber',
		]) {
			expect(talk).toContain(`  ${line}\n`);
		}
	});

	it('keeps what the glove sent byte for byte, and shows its text to whoever is about to send it', async () => {
		const output = newName();
		const {talk} = await share({recording: personal, output});
		const before = await readAll(await openSource(personal));
		const after = await readAll(await openSource(output));
		expect(bytesOf(after).equals(bytesOf(before))).toBe(true);
		expect(talk).toContain('What the glove sent stays as it came. Read it before you send the copy.');
		expect(talk).toContain('  Fox glove 3, serial 0042\n');
	});

	it('adds lead-in before --from where a finding needs it, and ends at --to', async () => {
		const output = newName();
		const {talk} = await share({recording: long, output, from: 85, to: 86});
		expect(talk).toMatch(/^Wrote .*: \d\d\.\d s to 86\.0 s of 130\.0 s; its times begin at 0\.$/m);
		expect(talk).toMatch(/^It begins \d+\.\d s before --from: /m);
		// What comes after --to is not in it.
		expect(await findingsOf(output)).toEqual(['floating-input ring']);
	});

	it('says which finding is not in the span, and which side of it to widen', async () => {
		const {snapshot} = await runSession(await openSource(long));
		const {from, flaggedAt} = snapshot.findings.find(({code}) => code === 'floating-input')!;
		const output = newName();
		const {status, talk} = await share({recording: long, output, from: from - 20, to: (from + flaggedAt) / 2});
		expect(status).toBe(0);
		expect(talk).toMatch(
			/floating-input on ring: at \d+\.\d s, NOT in the copy; what proves it comes later: give a later --to/,
		);
		expect(await findingsOf(output)).not.toContain('floating-input ring');
	});

	it('keeps the whole length with --all', async () => {
		const output = newName('.gbrec.gz');
		await share({recording: long, output, all: true});
		expect(
			bytesOf(await readAll(await openSource(output))).equals(bytesOf(await readAll(await openSource(long)))),
		).toBe(true);
	});

	it('makes a recording of a plain log, with its timing and findings', async () => {
		const output = newName();
		const {talk} = await share({recording: log, output});
		const {info, snapshot} = await runSession(await openSource(output));
		expect(info).toMatchObject({kind: 'recording', timing: 'column'});
		expect(await findingsOf(log)).toContain('stuck-low index');
		expect(snapshot.findings.map(({code, channel}) => `${code} ${channel}`).sort()).toEqual(await findingsOf(log));
		expect(talk).toContain(`the source's name: `);
	});

	it('never writes over a file unasked, nor over the recording itself by any name', async () => {
		const output = newName();
		writeFileSync(output, 'mine');
		await expect(share({recording: long, output})).rejects.toThrow(/already there.*--force/);
		expect(readFileSync(output, 'utf8')).toBe('mine');
		await share({recording: long, output, force: true});
		expect(await findingsOf(output)).toEqual(await findingsOf(long));
		const alias = newName();
		symlinkSync(long, alias);
		const size = statSync(long).size;
		for (const same of [long, alias]) {
			await expect(share({recording: long, output: same, force: true})).rejects.toThrow(/is the recording itself/);
		}
		expect(statSync(long).size).toBe(size);
	});

	it.each([
		[{output: undefined}, /No file for the copy was named: give one with -o/],
		[{recording: '/dev/ttyUSB0'}, /share copies files: record \/dev\/ttyUSB0 first/],
		[{recording: '-'}, /share copies files/],
		[{output: '/dev/null', force: true}, /The copy has to be a file, which \/dev\/null is not/],
		[{output: '-'}, /The copy has to be a file/],
		[{output: folder, force: true}, /it is a folder/],
		[{from: 20, to: 10}, /--from must be before --to/],
		[{from: 5000}, /--from 5000s is not in the recording: it ends at 130\.0 s/],
		[{all: true, to: 10}, /--all and --from or --to exclude each other/],
	])('refuses %j in one line', async (wrong, words) => {
		await expect(share({recording: long, output: newName(), ...wrong} as ShareOptions)).rejects.toThrow(words);
	});

	it('stopped on the way, writes nothing', async () => {
		const output = newName();
		const abort = new AbortController();
		abort.abort();
		expect((await share({recording: long, output}, abort.signal)).status).toBe(130);
		expect(() => statSync(output)).toThrow(/ENOENT/);
	});

	it('takes user, host and port of a logging program out, before readings and before words', async () => {
		const named = at('named.txt');
		const lines = readFileSync(log, 'utf8').trim().split('\n').slice(0, 600);
		const spoken = lines.map((line, i) => (i % 100 === 50 ? '# battery low' : line.replace(/^[\d.]+[ ,;\t]+/, '')));
		writeFileSync(named, `${spoken.map(line => `wilhelmine@workshop COM5 -> ${line}`).join('\n')}\n`);
		const output = newName();
		const {talk} = await share({recording: named, output});
		expect(readFileSync(output, 'utf8')).not.toMatch(/wilhelmine|workshop|COM5/);
		expect(talk).toMatch(/^ {2}# battery low$/m);
	});

	it('lists all kinds of text that stay with --list, and without it says how many there are', async () => {
		const talking = at('talking.txt');
		const lines = readFileSync(log, 'utf8').trim().split('\n').slice(0, 600);
		const words = ['fox', 'hare', 'owl', 'crow', 'dragon', 'badger', 'marten'].map(name => `glove of the ${name}`);
		writeFileSync(
			talking,
			`${lines.flatMap((line, i) => (i % 80 === 40 ? [line, words[Math.floor(i / 80)]] : [line])).join('\n')}\n`,
		);
		const five = await share({recording: talking, output: newName()});
		expect(five.talk).toContain('  glove of the dragon\n  and 2 more kinds: --list shows all\n');
		expect(five.talk).not.toContain('marten');
		const all = await share({recording: talking, output: newName(), list: true});
		for (const word of words) expect(all.talk).toContain(`  ${word}\n`);
		expect(all.talk).not.toContain('more kinds');
	});
});
