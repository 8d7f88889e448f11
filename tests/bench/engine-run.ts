import {Session} from '../../source/session/session.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {type Columns, framesPerSecond, gloveLines} from './hour-log.ts';
import {median, rounds} from './timed.ts';

const minutes = 10;
const frames = minutes * 60 * framesPerSecond;

/** Frames after which all paths are compiled and all rings have their size. */
const warmFrames = 60 * framesPerSecond;

function itemsOf(columns: Columns): SourceItem[] {
	const items: SourceItem[] = [];
	for (const line of gloveLines(frames, columns))
		items.push({t: items.length / framesPerSecond, bytes: Buffer.from(`${line}\r\n`)});
	return items;
}

/** Frames during which allocations are counted: what they allocate fits the young generation, so nothing is collected. */
const countedFrames = 50 * framesPerSecond;

/** Nanoseconds of processor time and bytes of the heap that a frame takes, once warm. */
function measure(items: readonly SourceItem[]): {nanoseconds: number; bytes: number} {
	const session = new Session({timing: 'measured', baud: null});
	for (let n = 0; n < warmFrames; n++) session.push(items[n]);
	globalThis.gc?.();
	const heap = process.memoryUsage().heapUsed;
	const counted = warmFrames + countedFrames;
	for (let n = warmFrames; n < counted; n++) session.push(items[n]);
	const bytes = (process.memoryUsage().heapUsed - heap) / countedFrames;
	const before = process.cpuUsage();
	for (let n = counted; n < items.length; n++) session.push(items[n]);
	const {user, system} = process.cpuUsage(before);
	return {nanoseconds: (1000 * (user + system)) / (items.length - counted), bytes};
}

console.log(`engine alone: ${minutes} minutes at ${framesPerSecond} frames a second from memory, framing to findings`);
const asked = process.argv.slice(2).map(Number);
for (const columns of [5, 12, 24] as const) {
	if (asked.length > 0 && !asked.includes(columns)) continue;
	const items = itemsOf(columns);
	measure(items);
	const runs = Array.from({length: rounds}, () => measure(items));
	const nanoseconds = median(runs.map(run => run.nanoseconds));
	const bytes = median(runs.map(run => run.bytes));
	console.log(
		`  ${String(columns).padStart(2)} columns: ${(nanoseconds / 1000).toFixed(2)} µs a frame; at 1,000 frames a second ${((100 * nanoseconds) / 1e6).toFixed(2)} % of a core; ${bytes.toFixed(0)} bytes allocated a frame`,
	);
}
