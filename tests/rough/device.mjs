// A device behind a pseudo-terminal, in a process of its own: writing to the far end waits for a reader, which may never
// come, and a cable is pulled by killing it. Prints the port's name, then sends what comes on standard input. With a
// file it sends that at the first line from there, as fast as it is taken, once or over and over.
// Usage: node tests/rough/device.mjs [FILE [--forever]]
import {readFileSync} from 'node:fs';
import {spawn} from '@lydell/node-pty';

const [file, forever] = process.argv.slice(2);
const terminal = spawn('/bin/sleep', ['120'], {encoding: null});
if (!(terminal.pid > 1)) throw new Error('The pseudo-terminal has no process of its own.');
process.stdout.write(`${terminal.ptsName}\n`);
if (file === undefined) {
	process.stdin.on('data', data => terminal.write(data));
} else {
	const data = readFileSync(file);
	process.stdin.once('data', () => {
		const send = () => {
			terminal.write(data);
			if (forever) setImmediate(send);
		};

		send();
	});
}

// Whoever started it has gone.
process.stdin.once('end', () => process.exit());
