import {spawn} from '@lydell/node-pty';

/** What opening one gives: the child that holds it is seen where the system lists who has what open. */
export const eventsOnOpening = process.platform === 'linux' ? ['dtr', 'shared'] : ['dtr'];

/** A pseudo-terminal whose far end stands for a serial port with a board behind it. */
export type PseudoPort = {
	readonly path: string;
	/** What the board sends. Open the port first: until then its line discipline would answer. */
	send(data: string | Buffer): void;
	/** Pulls the cable. Resolves once the device file has gone with it. */
	unplug(): Promise<void>;
};

/**
 * The port lives as long as a child that holds it, at most `seconds`. Never made with the library's `open`: what that
 * gives has no process of its own, and taking it down would signal every process there is.
 */
export function openPseudoPort(seconds = 60): PseudoPort {
	const terminal = spawn('/bin/sleep', [String(seconds)], {encoding: null});
	if (!(terminal.pid > 1)) throw new Error('The pseudo-terminal has no process of its own.');
	const {ptsName} = terminal as unknown as {ptsName: string};
	const gone = new Promise<void>(resolve => {
		terminal.onExit(() => resolve());
	});
	let unplugged = false;
	return {
		path: ptsName,
		// It takes Buffers too, whatever its types say.
		send: data => terminal.write(data as string),
		async unplug() {
			if (!unplugged) (terminal as unknown as {destroy(): void}).destroy();
			unplugged = true;
			await gone;
		},
	};
}
