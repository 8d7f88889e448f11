import type {SessionRun} from '../session/run-session.ts';
import {escapeText} from '../text/escape-text.ts';
import {countText} from '../text/number-text.ts';
import {rawLines} from './html/raw-lines.ts';
import {publicName} from './public-name.ts';

/** Why a session has no frame, and what to try: the bytes that came, how they begin, and what was declared about them. */
export function noFrameText({session, snapshot, info, sample}: SessionRun): string {
	const {bytes} = snapshot.link;
	const name = escapeText(publicName(info.name));
	if (bytes === 0)
		return `Nothing came from ${name}: there is nothing to check. Is the board powered, and does it send?`;
	const lines = rawLines(sample).filter(line => line.trim() !== '');
	const [first = ''] = lines;
	const begins = first === '' ? '' : ` (it begins “${escapeText(first, 40)}”)`;
	return (
		`${name} has no frame in it: ${countText(bytes, 'byte')} came, and no lines of readings among them${begins}. ` +
		whatToTry(session.options.layout, lines)
	);
}

function whatToTry(declared: string | undefined, lines: readonly string[]): string {
	if (declared === undefined) return 'If these are readings, say how they are written with --layout.';
	const wanted = declared.replace(/^\w+:/, '').split(',').length;
	// The first line may have been joined in its middle.
	const found = (lines[1] ?? lines[0] ?? '').split(/[,;|\s]+/).filter(Boolean).length;
	return found > 1 && found !== wanted
		? `The sheet or --layout declares ${wanted} values to a line, these have ${found}: correct the one that is wrong.`
		: 'The sheet or --layout declares other lines than these: correct it, or leave it out to have the layout found.';
}
