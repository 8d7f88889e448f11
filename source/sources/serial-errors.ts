import {CannotError} from '../cannot-error.ts';
import {explainPermission, findPortHolder, type PortHolder} from './port-access.ts';
import type {PortDescription} from './port-list.ts';

/** What an explanation may look at; tests pass their own. */
export type SerialSurroundings = {
	readonly listPorts: () => Promise<readonly PortDescription[]>;
	readonly explainPermission?: (path: string) => Promise<string>;
	readonly findHolder?: (path: string) => Promise<PortHolder | undefined>;
	readonly platform?: NodeJS.Platform;
};

/**
 * Why a port did not open, as one line: what, why, what to try. The serial library reports in words, which differ
 * between systems, so they are matched by their stems.
 */
export async function explainOpenError(
	path: string,
	baud: number,
	error: Error,
	around: SerialSurroundings,
): Promise<CannotError> {
	const words = error.message;
	const platform = around.platform ?? process.platform;
	const cannot = `Cannot open ${path}`;
	const busyOnWindows = platform === 'win32' && /access denied/i.test(words);
	if (/no such file|file not found|no such device|ENOENT/i.test(words)) {
		return new CannotError(`${cannot}: there is no such port. ${await nameOthers(around)}`);
	}

	if (/cannot lock port|temporarily unavailable|resource busy|device or resource busy/i.test(words) || busyOnWindows) {
		const holder = await (around.findHolder ?? findPortHolder)(path);
		const who = holder ? `${holder.program} (process ${holder.pid})` : 'another program';
		const find =
			platform === 'win32'
				? 'Close other serial monitors and upload tools.'
				: `Close it; \`lsof ${path}\` shows who has it open.`;
		return new CannotError(`${cannot}: ${who} is using it. ${find}`);
	}

	if (/permission denied|access denied|operation not permitted|EACCES/i.test(words)) {
		return new CannotError(`${cannot}: ${await (around.explainPermission ?? explainPermission)(path)}`);
	}

	if (/inappropriate ioctl|not a typewriter|not a tty/i.test(words)) {
		return new CannotError(`${cannot}: it is no serial port. ${await nameOthers(around)}`);
	}

	if (/custom baud rate|baud rate of|invalid baud/i.test(words)) {
		return new CannotError(`${cannot} at ${baud} baud: the port does not take that rate. Try 115200 or 9600.`);
	}

	if (/input\/output error/i.test(words)) {
		return new CannotError(`${cannot}: the device does not answer. Unplug it and plug it in again.`);
	}

	return new CannotError(
		`${cannot}: ${words.replace(/^Error:?\s*/, '').replaceAll(/\s+/g, ' ')}. Unplug it and plug it in again, and check the name.`,
	);
}

async function nameOthers(around: SerialSurroundings): Promise<string> {
	const ports = await around.listPorts().catch(() => []);
	if (ports.length === 0) {
		return 'No serial port is found at all: check that the cable carries data and that the board has power.';
	}

	const names = ports.slice(0, 6).map(({path}) => path);
	return `Found ${ports.length === 1 ? 'is' : 'are'} ${names.join(', ')}${ports.length > 6 ? ' and more' : ''}.`;
}
