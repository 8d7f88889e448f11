// Digests of every report on every sample and case, a line each: "sha256 name of what". Whoever runs this elsewhere (under
// another version of Node, another time zone, another locale, with the bytes cut otherwise) has to get the same lines.
// Usage: node tests/tools/run.mjs tests/tools/report-digests.ts [--cut BYTES] [NAME…]
import {createHash} from 'node:crypto';
import {readdirSync} from 'node:fs';
import path from 'node:path';
import {bringUpJson} from '../../source/bringup/bring-up-json.ts';
import {bringUpText} from '../../source/bringup/bring-up-text.ts';
import {runBringUp} from '../../source/bringup/run-bring-up.ts';
import {reportFor} from '../../source/commands/check.ts';
import {compareJson} from '../../source/compare/compare-json.ts';
import {compareText} from '../../source/compare/compare-text.ts';
import {compareRuns} from '../../source/compare/comparison.ts';
import {fitSettings} from '../../source/fit/fit.ts';
import {fitJson} from '../../source/fit/fit-json.ts';
import {gatherSource} from '../../source/fit/gather-source.ts';
import {bringUpPage} from '../../source/report/html/bring-up-page.ts';
import {comparisonPage} from '../../source/report/html/comparison-page.ts';
import {htmlReport} from '../../source/report/html/page.ts';
import {runSession} from '../../source/session/run-session.ts';
import {demoSpec} from '../../source/simulator/demo.ts';
import {openLog} from '../../source/sources/log/log-source.ts';
import {openSource} from '../../source/sources/open-source.ts';
import {simulatorSource} from '../../source/sources/simulator-source.ts';
import type {Source} from '../../source/stream/source.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';

const words = process.argv.slice(2);
const cutBytes = words[0] === '--cut' ? Number(words[1]) : Number.POSITIVE_INFINITY;
const wanted = words[0] === '--cut' ? words.slice(2) : words;

/** The same bytes at the same times in pieces of at most `cutBytes`. */
function cut(source: Source): Source {
	if (!Number.isFinite(cutBytes)) return source;
	return {
		...source,
		info: source.info,
		close: () => source.close(),
		async *batches(): AsyncGenerator<readonly SourceItem[]> {
			for await (const batch of source.batches()) {
				yield batch.flatMap(item => {
					if (!('bytes' in item)) return [item];
					const pieces: SourceItem[] = [];
					for (let at = 0; at < item.bytes.length; at += cutBytes) {
						pieces.push({t: item.t, bytes: item.bytes.slice(at, at + cutBytes)});
					}
					return pieces;
				});
			}
		},
	};
}

function say(name: string, content: string): void {
	process.stdout.write(`${createHash('sha256').update(content).digest('hex')} ${name}\n`);
}

async function sayReports(name: string, open: () => Promise<Source>): Promise<void> {
	const run = await runSession(cut(await open()));
	say(`${name} as JSON`, await reportFor(run, {json: true}));
	say(`${name} as text`, await reportFor(run));
	say(`${name} as Markdown`, await reportFor(run, {markdown: true, full: true}));
	say(`${name} as a page`, htmlReport(run));
	if (run.snapshot.link.frames === 0) return;
	const gathered = await gatherSource(cut(await open()), {});
	say(
		`settings from ${name}`,
		JSON.stringify(fitJson(fitSettings(gathered.session, gathered.gathered), gathered.info)),
	);
}

async function sayBringUp(name: string, file: string): Promise<void> {
	const run = await runBringUp(cut(await openSource(file)), {isPrompted: false});
	const {result, bringUp} = run;
	if (!result || !bringUp) throw new Error(`${name} had no frame in it.`);
	say(`bring-up ${name} as JSON`, JSON.stringify(bringUpJson(result, run.info)));
	say(`bring-up ${name} as text`, bringUpText(result, name));
	say(`bring-up ${name} as a page`, bringUpPage({...run, result, bringUp}));
}

async function sayComparison(one: string, other: string): Promise<void> {
	const a = await gatherSource(cut(await openSource(one)), {});
	const b = await gatherSource(cut(await openSource(other)), {});
	const comparison = compareRuns(a, b);
	const name = `${path.basename(one)} against ${path.basename(other)}`;
	say(`${name} as JSON`, JSON.stringify(compareJson(comparison)));
	say(`${name} as text`, compareText(comparison));
	say(`${name} as a page`, comparisonPage(comparison, a, b));
}

/** A log whose lines carry a local time, over the night in which clocks are put forward in much of Europe. */
function datedLog(stamp: (ms: number) => string): () => Promise<Source> {
	const start = Date.UTC(2025, 2, 30, 0, 59, 56);
	const finger = (n: number, k: number) => Math.round(500 + 300 * Math.sin(n / 40 + k) + ((n * (k + 3)) % 5));
	const text = Array.from(
		{length: 800},
		(_, n) => `${stamp(start + 10 * n)} ${[0, 1, 2, 3, 4].map(k => finger(n, k)).join(',')}\n`,
	).join('');
	return () =>
		openLog({
			name: 'dated.log',
			chunks: (async function* () {
				yield Buffer.from(text);
			})(),
		});
}

const dated: Readonly<Record<string, (ms: number) => string>> = {
	'log with local dates': ms => new Date(ms).toISOString().replace('T', ' ').replace('Z', ''),
	'log with zones': ms => new Date(ms).toISOString().replace('Z', '+02:00'),
	'log with clock times': ms => new Date(ms).toISOString().slice(11, 23),
	'log with dates day first': ms => {
		const [year, month, day] = new Date(ms).toISOString().slice(0, 10).split('-');
		return `${day}.${month}.${year} ${new Date(ms).toISOString().slice(11, 23)}`;
	},
};

const isWanted = (name: string) => wanted.length === 0 || wanted.some(word => name.startsWith(word));
const filesIn = (folder: string, ending: string) =>
	readdirSync(folder)
		.filter(name => name.endsWith(ending) && isWanted(name))
		.sort()
		.map(name => path.join(folder, name));

for (const file of [...filesIn('recordings', '.gbrec'), ...filesIn('tests/cases', '.txt')]) {
	await sayReports(path.basename(file), () => openSource(file));
}

for (const [name, stamp] of Object.entries(dated)) if (isWanted(name)) await sayReports(name, datedLog(stamp));
if (isWanted('demo')) await sayReports('demo', async () => simulatorSource(demoSpec(60), {paced: false}));
for (const file of readdirSync('recordings')
	.filter(name => /^bringup-.*\.gbrec$/.test(name))
	.sort()) {
	if (isWanted(`bring-up ${file}`)) await sayBringUp(file, path.join('recordings', file));
}

for (const [one, other] of [
	['healthy', 'dropout'],
	['floating-input', 'healthy-esp32'],
]) {
	if (isWanted(`comparison of ${one}`)) await sayComparison(`recordings/${one}.gbrec`, `recordings/${other}.gbrec`);
}
