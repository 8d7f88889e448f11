import {execFile} from 'node:child_process';
import {writeFileSync} from 'node:fs';
import {join} from 'node:path';
import {encodeEnd, encodeHeader, encodeItem, recordingVersion} from '../../source/recording/recording-format.ts';
import {Session} from '../../source/session/session.ts';
import type {Truth} from '../../source/simulator/simulate.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import type {Found} from './score.ts';

type Run = {readonly items: readonly SourceItem[]; readonly truth: Truth};

/** Findings of a session in this process: quick, and the same engine as `check`. */
export function diagnoseInProcess({items, truth}: Run): readonly Found[] {
	const {baud, fullScale, layout, targetRate} = truth.declared;
	const session = new Session({
		timing: 'measured',
		baud,
		fullScale,
		...(layout === null ? {} : {layout}),
		...(targetRate === null ? {} : {targetRate}),
	});
	for (const item of items) session.push(item);
	session.end(truth.durationSeconds);
	return session.findings;
}

/** Writes the run as a recording under `folder`, and its sheet where a target rate is declared; returns the options for `check`. */
export function writeCase({items, truth}: Run, folder: string, name: string): string[] {
	const {baud, fullScale, layout, targetRate} = truth.declared;
	const path = join(folder, `${name}.gbrec`);
	const header = {glovebench: recordingVersion, startedAt: '2026-01-01T00:00:00.000Z', sheet: null, note: ''};
	const source = {kind: 'simulator', name: 'accuracy', timing: 'measured', baud};
	let bytes = 0;
	const lines = [encodeHeader({...header, source, link: baud === null ? null : {baud}})];
	for (const item of items) {
		lines.push(encodeItem(item));
		if ('bytes' in item) bytes += item.bytes.length;
	}
	lines.push(encodeEnd(truth.durationSeconds, bytes));
	writeFileSync(path, lines.join(''));
	const options = ['check', path, '--json'];
	if (fullScale !== null) options.push('--full-scale', String(fullScale));
	if (baud !== null) options.push('--baud', String(baud));
	if (layout !== null) options.push('--layout', layout);
	if (targetRate !== null) {
		const sheet = join(folder, `${name}.toml`);
		writeFileSync(sheet, `[link]\ntarget_rate = ${targetRate}\n`);
		options.push('--sheet', sheet);
	}
	return options;
}

/** What the built command line finds: `node dist/cli.js check FILE --json …`. Rejects where it could not do it. */
export function diagnoseByCheck(cli: string, options: readonly string[]): Promise<readonly Found[]> {
	return new Promise((resolve, reject) => {
		execFile(process.execPath, [cli, ...options], {maxBuffer: 1 << 28}, (error, stdout, stderr) => {
			// Exit status 1 tells that something was found.
			if (error !== null && error.code !== 1) reject(new Error(`${options.join(' ')}: ${stderr.trim()}`));
			else resolve(JSON.parse(stdout).findings);
		});
	});
}
