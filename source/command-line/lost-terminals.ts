import {closeSync, fstatSync} from 'node:fs';
import {isatty} from 'node:tty';

const standardStreams = [0, 1, 2];

/** Those of the standard streams that are terminals now. */
export function openTerminals(): readonly number[] {
	return standardStreams.filter(descriptor => isatty(descriptor));
}

/**
 * Whether an error is what a terminal that has gone away answers with from then on (EIO).
 *
 * @param wereOpen The standard streams that were terminals at the start.
 */
export function tellsOfLostTerminal(error: unknown, wereOpen: readonly number[]): boolean {
	if (!(error instanceof Error) || (error as NodeJS.ErrnoException).code !== 'EIO') return false;
	return wereOpen.some(descriptor => !isatty(descriptor));
}

/**
 * Closes standard streams whose terminal has gone away. As it exits, Node puts back the settings of every terminal that
 * it was started on and that is still open, and aborts where that fails: the caller would see a crash (SIGABRT).
 */
export function closeLostTerminals(): void {
	for (const descriptor of standardStreams) {
		try {
			// Also a terminal that went while the program was still loading; /dev/null is no loss either.
			if (!isatty(descriptor) && fstatSync(descriptor).isCharacterDevice()) closeSync(descriptor);
		} catch {
			// Closed from the start.
		}
	}
}
