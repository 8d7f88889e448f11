// Writes V8's code of dist/check.cjs beside it, once everything that a check runs has been compiled.
// Usage: node source/write-code.mjs FOLDER
import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {pathToFileURL} from 'node:url';
import {build} from 'esbuild';

const dist = path.resolve(process.argv[2]);
const {outputFiles} = await build({
	entryPoints: ['source/command-line/check-script.ts'],
	bundle: true,
	format: 'esm',
	platform: 'node',
	target: 'node20',
	write: false,
	logLevel: 'warning',
});
const {loadCheckScript} = await import(
	`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`
);

let code;
const {main, checkCommand} = loadCheckScript(pathToFileURL(path.join(dist, 'cli.js')), written => {
	code = written;
});
const folder = mkdtempSync(path.join(tmpdir(), 'glovebench-code-'));
const log = path.join(folder, 'glove.csv');
writeFileSync(log, gloveLog());
process.on('exit', status => {
	rmSync(folder, {recursive: true, force: true});
	if (status > 1) return;
	writeFileSync(path.join(dist, 'check.code'), code());
});

const nobody = {write: () => true};
const io = {stdin: process.stdin, stdout: nobody, stderr: nobody, signal: new AbortController().signal};
for (const source of ['recordings/healthy.gbrec', 'recordings/dropout.gbrec', log])
	for (const json of [false, true]) await checkCommand({source, json, color: false, ascii: false, columns: 80}, io);
process.argv = [process.argv[0], path.join(dist, 'cli.js'), 'check', log, '--json'];
main({cancel: new AbortController(), status: () => undefined, outliveTerminal() {}, hangUp() {}});

/** Half a minute of five fingers that close and open. */
function gloveLog() {
	let text = '';
	for (let n = 0; n < 3000; n++) {
		const way = Math.max(0, Math.sin(n / 60));
		const fingers = [0, 1, 2, 3, 4].map(f => Math.round(150 + 20 * f + (600 + 30 * f) * way + ((n * (7 + f)) % 5)));
		text += `${fingers.join(',')},${511 + (n % 3)},${513 - (n % 4)},${n % 900 < 20 ? 0 : 1}\r\n`;
	}

	return text;
}
