import {linearRegression} from 'simple-statistics';
import {Session} from '../../source/session/session.ts';
import {framesPerSecond, gloveLines} from './hour-log.ts';

const hours = 24;

/** Lines that are played over and over, so that the making of them does not count. */
const lines = Array.from(gloveLines(20 * 60 * framesPerSecond, 5), line => Buffer.from(`${line}\r\n`));

const session = new Session({timing: 'measured', baud: null});
const heap: [hours: number, mib: number][] = [];
let n = 0;
for (let hour = 1; hour <= hours; hour++) {
	for (; n < hour * 3600 * framesPerSecond; n++) session.push({t: n / framesPerSecond, bytes: lines[n % lines.length]});
	globalThis.gc?.();
	heap.push([hour, (process.memoryUsage().heapUsed + process.memoryUsage().arrayBuffers) / 2 ** 20]);
}
// The first hours fill the rings.
const {m: slope} = linearRegression(heap.slice(4));
const peak = process.resourceUsage().maxRSS / 1024;
console.log(`a day: ${hours} hours at ${framesPerSecond} frames a second × 5 columns in virtual time, one session`);
console.log(
	`  heap after hour 1, 4, 12, 24: ${[1, 4, 12, 24].map(hour => heap[hour - 1][1].toFixed(2)).join(', ')} MiB`,
);
console.log(`  slope from hour 5 on ${(1024 * slope).toFixed(2)} KiB an hour, peak resident ${peak.toFixed(0)} MiB`);
