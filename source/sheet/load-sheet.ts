import {readFile, stat} from 'node:fs/promises';
import {CannotError} from '../cannot-error.ts';
import {itemAt} from '../item-at.ts';
import {type ParsedSheet, parseSheet} from './parse-sheet.ts';
import type {Sheet} from './sheet.ts';

/** No sheet comes near this; something else was named. */
const largestBytes = 1_000_000;

/** Reads and checks a sheet file. Throws `CannotError` where it cannot be read or has a problem, naming the first. */
export async function loadSheet(path: string): Promise<Sheet> {
	const {sheet, problems} = parseSheet(await readSheetText(path));
	if (sheet) return sheet;
	const {line, message} = itemAt(problems, 0);
	const more = problems.length > 1 ? ` ${problems.length - 1} more: glovebench sheet check ${path}` : '';
	throw new CannotError(`${path} line ${line}: ${message}${more}`);
}

/** Reads a sheet file and gives everything that is wrong with it. Throws `CannotError` only where it cannot be read. */
export async function checkSheetFile(path: string): Promise<ParsedSheet> {
	return parseSheet(await readSheetText(path));
}

async function readSheetText(path: string): Promise<string> {
	try {
		const {size} = await stat(path);
		if (size > largestBytes) {
			throw new CannotError(`${path} is no sheet: it has ${size} bytes. Name the .toml file that describes the glove.`);
		}
		return new TextDecoder('utf-8', {fatal: true}).decode(await readFile(path));
	} catch (error) {
		if (error instanceof CannotError) throw error;
		throw new CannotError(`Cannot read the sheet ${path}: ${reason(error)}`);
	}
}

function reason(error: unknown): string {
	switch ((error as NodeJS.ErrnoException)?.code) {
		case 'ENOENT':
			return 'there is no such file. glovebench sheet new writes one.';
		case 'EACCES':
		case 'EPERM':
			return 'permission denied. Check who may read it.';
		case 'EISDIR':
			return 'it is a folder. Name the .toml file in it.';
		case 'ERR_ENCODING_INVALID_ENCODED_DATA':
			return 'it is not UTF-8 text. Save it as UTF-8.';
		default:
			return error instanceof Error ? error.message : String(error);
	}
}
