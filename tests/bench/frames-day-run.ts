import {linearRegression} from 'simple-statistics';
import {FrameTap} from '../../source/frames/frame-tap.ts';
import {FramesOut} from '../../source/frames/frames-out.ts';
import {SettledFrames} from '../../source/frames/settled-frames.ts';
import {framesPerSecond, gloveLines} from './hour-log.ts';

const hours = 24;

/** Lines that are played over and over, so that the making of them does not count. */
const lines = Array.from(gloveLines(20 * 60 * framesPerSecond, 5), line => Buffer.from(`${line}\r\n`));

let bytes = 0;
const out = new FramesOut(
	{format: 'ndjson', resample: 50},
	{head: () => {}, row: text => void (bytes += text.length), tell: () => {}},
);
const tap = new FrameTap(new SettledFrames(out, false), undefined);
const heap: [hours: number, mib: number][] = [];
let n = 0;
for (let hour = 1; hour <= hours; hour++) {
	for (; n < hour * 3600 * framesPerSecond; n++) tap.push({t: n / framesPerSecond, bytes: lines[n % lines.length]});
	globalThis.gc?.();
	heap.push([hour, (process.memoryUsage().heapUsed + process.memoryUsage().arrayBuffers) / 2 ** 20]);
}

const {m: slope} = linearRegression(heap.slice(4));
console.log(
	`frames, a day: ${hours} hours at ${framesPerSecond} frames a second in virtual time, ${(bytes / 1e6).toFixed(0)} MB written`,
);
console.log(
	`  heap after hour 1, 4, 12, 24: ${[1, 4, 12, 24].map(hour => heap[hour - 1][1].toFixed(2)).join(', ')} MiB; slope from hour 5 on ${(1024 * slope).toFixed(2)} KiB an hour`,
);
