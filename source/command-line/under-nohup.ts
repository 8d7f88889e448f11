import {fstatSync, readSync, statSync} from 'node:fs';

/**
 * Whether `nohup` started us, so that the terminal's going away is to be ignored. Node takes back that SIGHUP is ignored
 * when it starts; what is left of `nohup` is that it puts /dev/null, which cannot be read there, in place of a terminal as
 * standard input (GNU coreutils manual, nohup; false with other makes of it).
 */
export function isUnderNohup(): boolean {
	try {
		if (fstatSync(0).rdev !== statSync('/dev/null').rdev || !fstatSync(0).isCharacterDevice()) return false;
		readSync(0, new Uint8Array(1));
		return false;
	} catch (error) {
		return (error as NodeJS.ErrnoException).code === 'EBADF';
	}
}
