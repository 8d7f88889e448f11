import {dirname} from 'node:path';

/** One line for the user: why a recording could not be created, and what to try. */
export function whyNotCreated(path: string, error: NodeJS.ErrnoException): string {
	switch (error.code) {
		case 'EEXIST':
			return `${path} is already there and is kept as it is: choose another name, or overwrite it with --force.`;
		case 'ENOENT':
			return `Cannot create ${path}: the folder ${dirname(path)} does not exist. Make it first, or choose another.`;
		case 'ENOTDIR':
			return `Cannot create ${path}: part of its path is a file, not a folder. Choose another name.`;
		case 'EISDIR':
			return `Cannot create ${path}: it is a folder. Give a file name, such as ${path.replace(/[/\\]*$/, '')}/glove.gbrec.`;
		case 'EACCES':
		case 'EPERM':
			return `Cannot create ${path}: no permission to write there. Choose a folder of your own.`;
		default:
			return `Cannot create ${path}: ${whyNotWritten(error)}`;
	}
}

/** Why writing failed, as the end of a sentence with what to try. */
export function whyNotWritten(error: NodeJS.ErrnoException): string {
	switch (error.code) {
		case 'ENOSPC':
			return 'the disk is full. Free some space, or record to another disk.';
		case 'EDQUOT':
			return 'your disk quota is used up. Free some space, or record elsewhere.';
		case 'EFBIG':
			return 'the file has grown to the largest size allowed there. Record to another disk.';
		case 'ENOENT':
			return 'the file was removed or replaced while it was being written, and could not be written anew. Record to a place that stays.';
		case 'ENOBUFS':
			return 'the disk has not taken anything for very long. Record to another disk.';
		case 'EROFS':
			return 'the disk is read-only. Record to another disk.';
		case 'EIO':
		case 'ENXIO':
		case 'ENODEV':
			return 'the disk does not answer any more. Check that it is still plugged in.';
		default:
			return `writing failed (${error.code ?? error.message}). Record to another place.`;
	}
}
