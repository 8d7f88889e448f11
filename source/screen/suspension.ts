import process from 'node:process';

/** Time for the stop to take effect: it reaches the process a moment after it was asked for. */
const settleMs = 20;

type Suspension = {
	/** Gives the terminal back and stops, as Ctrl-Z does elsewhere. */
	suspend(): void;
	/** No longer listens to signals. */
	end(): void;
};

/**
 * Stops the program on SIGTSTP with the terminal given back, and takes it again on SIGCONT: also after SIGSTOP, which
 * nobody is told of.
 */
export function allowSuspension(leave: () => void, enter: () => void): Suspension {
	let over = false;
	const suspend = () => {
		// Windows has no stopped processes.
		if (process.platform === 'win32' || over) return;
		leave();
		process.off('SIGTSTP', suspend);
		process.kill(process.pid, 'SIGTSTP');
		// Runs after SIGCONT, or at once where there is no shell to go back to.
		setTimeout(resume, settleMs);
	};

	const resume = () => {
		if (over) return;
		if (!process.listeners('SIGTSTP').includes(suspend)) process.on('SIGTSTP', suspend);
		enter();
	};

	process.on('SIGCONT', resume);
	process.on('SIGTSTP', suspend);
	return {
		suspend,
		end() {
			over = true;
			process.off('SIGCONT', resume);
			process.off('SIGTSTP', suspend);
		},
	};
}

type Keys = {readonly isTTY?: boolean} | null;

/** Sets raw input afresh: a shell may have changed the mode behind Node's back, which takes it for set already. */
export function takeKeys(keys: Keys): void {
	releaseKeys(keys);
	if (keys?.isTTY) (keys as NodeJS.ReadStream).setRawMode(true);
}

/** Lines again, with echo, as a shell wants them. */
export function releaseKeys(keys: Keys): void {
	if (keys?.isTTY) (keys as NodeJS.ReadStream).setRawMode(false);
}
