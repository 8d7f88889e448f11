import {readdirSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import {PassThrough} from 'node:stream';
import {openNamedSource} from '../../source/command-line/source-options.ts';
import {FrameTap} from '../../source/frames/frame-tap.ts';
import {FramesOut} from '../../source/frames/frames-out.ts';
import {runSession, type SessionRun} from '../../source/session/run-session.ts';
import {writeSheet} from '../../source/sheet/write-sheet.ts';

/** Of the link, what lies in the times and numbers of the frames (specification F); of the rest, what is on a channel. */
const ofTheLink = ['slow-frames', 'uneven-frames', 'stall', 'bursty-delivery', 'lost-frames'];

const io = {stdin: new PassThrough(), signal: new AbortController().signal};

export const recordings = readdirSync('recordings').filter(name => name.endsWith('.gbrec'));

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

/** The findings of a recording and of its table, sorted; null where it holds no frame. */
export async function checkedAgain(name: string, folder: string) {
	const file = path.join('recordings', name);
	const {source, session, sheet} = await openNamedSource(file, {}, io);
	const run = await runSession(source, {session});
	if (run.snapshot.link.frames === 0) return null;
	const table = path.join(folder, `${name}.csv`);
	writeFileSync(table, await asTable(file, run, session.layout));
	const sheetFile = path.join(folder, 'sheet.toml');
	if (sheet) writeFileSync(sheetFile, writeSheet(sheet));
	const again = await openNamedSource(table, {...(sheet && {sheet: sheetFile})}, io);
	const second = await runSession(again.source, {session: again.session});
	return {
		before: told(run),
		after: told(second),
		framesBefore: run.snapshot.link.frames,
		framesAfter: second.snapshot.link.frames,
	};
}
