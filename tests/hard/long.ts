import {readFileSync} from 'node:fs';
import {parseArgs} from 'node:util';
import {gzipSync} from 'node:zlib';
import {CannotError} from '../../source/cannot-error.ts';
import {runSession} from '../../source/session/run-session.ts';
import {Session} from '../../source/session/session.ts';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import {openBytes} from '../../source/sources/open-file.ts';
import {hostileStreams, randomBytes, seeded} from './hostile-streams.ts';
import {chunked, mutate, recordingKinds, stream} from './mutate.ts';

const {values} = parseArgs({
	options: {
		seed: {type: 'string', default: '1'},
		tries: {type: 'string', default: '5000'},
		only: {type: 'string', default: ''},
	},
});
const seed = Number(values.seed);
const tries = Number(values.tries);

let mostMegabytes = 0;

async function job(name: string, work: () => Promise<string> | string): Promise<void> {
	if (!name.includes(values.only)) return;
	const before = process.cpuUsage();
	const result = await work();
	const {user, system} = process.cpuUsage(before);
	const megabytes = Math.round(process.memoryUsage.rss() / 2 ** 20);
	mostMegabytes = Math.max(mostMegabytes, megabytes);
	console.log(
		`${name.padEnd(46)} ${((user + system) / 1e6).toFixed(1).padStart(7)} s  ${String(megabytes).padStart(5)} MiB  ${result}`,
	);
}

/** Feeds a session chunk by chunk, ends it, and says what it holds. */
function feed(chunks: Iterable<Uint8Array>, bytesPerSecond = 20_000): string {
	const session = new Session({timing: 'measured', baud: 115_200});
	let received = 0;
	for (const bytes of chunks) {
		session.push({t: received / bytesPerSecond, bytes});
		received += bytes.length;
	}

	session.end();
	const {link, findings} = session.snapshot();
	return `${received} bytes, ${link.frames} frames, ${findings.length} findings`;
}

function* pieces(bytes: Uint8Array, size: number): Generator<Uint8Array> {
	for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

await job('ten million random bytes', () =>
	feed(
		(function* () {
			for (let part = 0; part < 10; part++) yield* pieces(randomBytes(1_000_000, seed + part), 1000);
		})(),
	),
);
await job('one line of 1 GB', () =>
	feed(
		(function* () {
			const chunk = new Uint8Array(1 << 20).fill(0x37);
			for (let part = 0; part < 1024; part++) yield chunk;
		})(),
		1 << 20,
	),
);
await job('a million labels', () =>
	feed(
		(function* () {
			for (let label = 0; label < 1_000_000; label += 2) yield Buffer.from(`l${label}x:5 l${label + 1}x:6\n`);
		})(),
	),
);
await job('every hostile stream, 1 MB of each', () => {
	for (const make of Object.values(hostileStreams)) feed(pieces(make(1_000_000, seed), 777));
	return `${Object.keys(hostileStreams).length} streams`;
});

/** Reads a file to its end through a whole session. Counts what could not be read. */
async function sessions(name: string, originals: readonly Uint8Array[], count: number): Promise<string> {
	let refused = 0;
	const random = seeded(seed);
	for (let attempt = 0; attempt < count; attempt++) {
		const original = originals[attempt % originals.length]!;
		const bytes = mutate(original, seed * 1_000_003 + attempt, 1 + Math.floor(random() * 20));
		try {
			await runSession(await openBytes(name, stream(chunked(bytes, attempt, 3000)), {}));
		} catch (error) {
			if (!(error instanceof CannotError)) throw error;
			refused++;
		}
	}

	return `${count} files, ${refused} refused in one line`;
}

const sample = (name: string, lines: number): Buffer =>
	Buffer.from(readFileSync(`recordings/${name}.gbrec`, 'utf8').split('\n').slice(0, lines).join('\n'));
const recordings = recordingKinds.map(name => sample(name, 200));
await job('damaged recordings', () => sessions('x.gbrec', recordings, tries));
await job('damaged compressed recordings', () =>
	sessions(
		'x.gbrec.gz',
		recordings.map(bytes => gzipSync(bytes)),
		tries,
	),
);
const logs = [
	(index: number) => `${(index / 100).toFixed(3)} 512,498,${index}`,
	(index: number) => `12:00:${String(index % 60).padStart(2, '0')}.120 -> 512,498,${index}`,
	(index: number) => (index === 0 ? 'time_ms,thumb,index' : `${index * 10},512,498`),
	(index: number) => `{"ms":${index * 10},"thumb":512,"index":${index}}`,
	(index: number) => `thumb:${index % 1024} index:${(index * 7) % 1024} ring:${(index * 3) % 1024}`,
].map(form => Buffer.from(Array.from({length: 120}, (_, index) => `${form(index)}\n`).join('')));
await job('damaged logs', () => sessions('x.txt', [...logs, Buffer.from(`\uFEFF${logs[0]}`, 'utf16le')], tries));
await job('damaged sheets', () => {
	const original = readFileSync('docs/examples/fox-left.toml');
	let problems = 0;
	for (let attempt = 0; attempt < tries; attempt++)
		if (parseSheet(mutate(original, seed + attempt, 1 + (attempt % 8)).toString('utf8')).sheet === undefined)
			problems++;
	return `${tries} sheets, ${problems} with problems`;
});
for (const [name, byte] of [
	['zeros', 0],
	['digits', 0x31],
	['line feeds', 0x0a],
] as const) {
	await job(`a gigabyte of ${name} from one megabyte`, async () => {
		const block = gzipSync(Buffer.alloc(1 << 24, byte));
		const {snapshot} = await runSession(
			await openBytes('x.txt.gz', stream(Array.from({length: 64}, () => Buffer.from(block))), {}),
		);
		return snapshot.events.map(({detail}) => detail).join();
	});
}

console.log(`Nothing was thrown. At most ${mostMegabytes} MiB.`);
