/** Exit statuses after a signal: 128 and its number, as shells report it (POSIX). */
const statuses = {SIGINT: 130, SIGTERM: 143, SIGHUP: 129} as const;

/** One Ctrl-C reaches a program twice where a wrapper such as npm passes it on as well. */
const sameAskingMs = 500;

/** How the program is told from outside to end. */
export type Signals = {
	/** Aborts whatever is going on; also for ends that no signal asked for. */
	readonly cancel: AbortController;
	/** The exit status that the first signal asks for; undefined as long as none came. */
	status(): number | undefined;
	/** From now on SIGHUP changes nothing: it was started to outlive its terminal. */
	outliveTerminal(): void;
	/** As if SIGHUP had come: the terminal is gone. */
	hangUp(): void;
};

/** Takes SIGINT, SIGTERM and SIGHUP from now on: the first ends in order, another of the first two half
 * a second later at once. */
export function takeSignals(): Signals {
	const cancel = new AbortController();
	let status: number | undefined;
	let outlives = false;
	let askedAtMs = 0;
	const ask = (asked: number) => {
		status ??= asked;
		cancel.abort();
	};

	for (const [name, asked] of Object.entries(statuses)) {
		process.on(name, () => {
			if (name === 'SIGHUP' && outlives) return;
			const nowMs = performance.now();
			// Asked again, the user no longer wants to wait for a tidy end. A terminal that goes away may tell several times.
			if (status !== undefined && name !== 'SIGHUP' && nowMs - askedAtMs > sameAskingMs) process.exit(status);
			askedAtMs = nowMs;
			ask(asked);
		});
	}

	const outliveTerminal = () => {
		outlives = true;
	};
	return {cancel, status: () => status, outliveTerminal, hangUp: () => ask(statuses.SIGHUP)};
}
