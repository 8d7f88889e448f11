// Run as a child that is killed: records a numbered line every 10 ms and says when.
import {RecordingWriter} from '../../source/recording/recording-writer.ts';
import {startClock} from '../../source/sources/live-clock.ts';

const writer = await RecordingWriter.create(process.argv.at(-1)!, {
	source: {kind: 'serial', name: 'child', timing: 'measured', baud: null},
});
const clock = startClock();
let n = 0;
setInterval(() => {
	const t = clock();
	writer.write({t, bytes: Buffer.from(`${n++},512\r\n`)});
	process.stdout.write(`${JSON.stringify({t})}\n`);
}, 10);
