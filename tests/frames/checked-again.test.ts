import {mkdtempSync, readdirSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {afterAll, beforeAll, describe, expect, test} from 'vitest';
import {openNamedSource} from '../../source/command-line/source-options.ts';
import {FrameTap} from '../../source/frames/frame-tap.ts';
import {FramesOut} from '../../source/frames/frames-out.ts';
import {runSession, type SessionRun} from '../../source/session/run-session.ts';
import type {Sheet} from '../../source/sheet/sheet.ts';
import {writeSheet} from '../../source/sheet/write-sheet.ts';

/** Of the link, what lies in the times and numbers of the frames (specification F); of the rest, what is on a channel. */
const ofTheLink = ['slow-frames', 'uneven-frames', 'stall', 'bursty-delivery', 'lost-frames'];

const withoutFrames = ['wrong-baud'];

/** The pause of a restart is a stall where the start-up text is left out that tells what it was; `frames` says so. */
const more: Readonly<Record<string, readonly string[]>> = {'device-restart': ['stall null out-of-spec']};

const io = {stdin: new PassThrough(), signal: new AbortController().signal};
let folder: string;
beforeAll(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'glovebench-again-'));
});
afterAll(() => rmSync(folder, {recursive: true}));

const told = ({snapshot}: SessionRun): string[] =>
	snapshot.findings
		.filter(({code, channel}) => channel !== null || ofTheLink.includes(code))
		.map(({code, channel, status, mended}) => `${code} ${channel} ${status}${mended ? ' mended' : ''}`)
		.sort();

/** The readings of a recording as `frames -o` writes them, and the sheet that the recording holds. */
async function asTable(file: string, run: SessionRun, layout: string | undefined): Promise<string> {
	let text = '';
	const out = new FramesOut(
		{format: 'csv', layout: run.session.layoutNow!},
		{head: piece => void (text += piece), row: piece => void (text += piece), tell: () => {}},
	);
	const tap = new FrameTap(out, layout);
	const {source} = await openNamedSource(file, {}, io);
	for await (const batch of source.batches()) for (const item of batch) tap.push(item);
	tap.end();
	out.end();
	return text;
}

describe('what frames writes of every recording, checked again', () => {
	const names = readdirSync('recordings').filter(name => name.endsWith('.gbrec'));

	test.each(names)('%s: the same findings on channels, and the five of the link', async name => {
		const file = path.join('recordings', name);
		const {source, session, sheet} = await openNamedSource(file, {}, io);
		const run = await runSession(source, {session});
		if (withoutFrames.includes(path.basename(name, '.gbrec'))) {
			expect(run.snapshot.link.frames).toBe(0);
			return;
		}

		const table = path.join(folder, `${name}.csv`);
		writeFileSync(table, await asTable(file, run, session.layout));
		const again = await openNamedSource(table, {...(sheet && {sheet: sheetFile(sheet)})}, io);
		const second = await runSession(again.source, {session: again.session});
		expect(second.snapshot.link.frames).toBe(run.snapshot.link.frames);
		expect(told(second)).toEqual([...told(run), ...(more[path.basename(name, '.gbrec')] ?? [])].sort());
	});
});

function sheetFile(sheet: Sheet): string {
	const file = path.join(folder, 'sheet.toml');
	writeFileSync(file, writeSheet(sheet));
	return file;
}
