import {CannotError} from '../cannot-error.ts';
import {escapeText} from '../escape-text.ts';
import {countText} from './figures-text.ts';
import {rawLines} from './html/raw-lines.ts';
import {publicName} from './public-name.ts';
import type {SessionRun} from './run-session.ts';

/**
 * Throws `CannotError` where nothing in a session looked like a frame and nothing says why: a letter, a picture, a table
 * of words. A report on that would say that nothing is wrong.
 */
export function requireFrames({snapshot, info, sample}: SessionRun): void {
	const {link, findings} = snapshot;
	if (link.frames > 0 || findings.length > 0) return;
	const [first = ''] = rawLines(sample).filter(line => line.trim() !== '');
	const name = escapeText(publicName(info.name));
	if (link.bytes === 0) throw new CannotError(`Nothing came from ${name}: there is nothing to check.`);
	throw new CannotError(
		`${name} has no frame in it: ${countText(link.bytes, 'byte')} came, and no lines of readings among them` +
			`${first === '' ? '' : ` (it begins “${escapeText(first, 40)}”)`}. ` +
			'If these are readings, say how they are written with --layout.',
	);
}
