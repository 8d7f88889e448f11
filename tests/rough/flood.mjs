// A device that sends a file as fast as it is taken, once or over and over. In a process of its own, since writing to
// the far end of a pseudo-terminal waits for its reader. Prints the port's name, starts at a line on standard input.
// Usage: node tests/rough/flood.mjs FILE [--forever]
import {readFileSync} from 'node:fs';
import {spawn} from '@lydell/node-pty';

const [file, forever] = process.argv.slice(2);
const data = readFileSync(file);
const terminal = spawn('/bin/sleep', ['120'], {encoding: null});
if (!(terminal.pid > 1)) throw new Error('The pseudo-terminal has no process of its own.');
process.stdout.write(`${terminal.ptsName}\n`);
process.stdin.once('data', () => {
	const send = () => {
		terminal.write(data);
		if (forever) setImmediate(send);
	};

	send();
});
// Whoever started it has gone.
process.stdin.once('end', () => process.exit());
