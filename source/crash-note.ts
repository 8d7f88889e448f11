import {basename} from 'node:path';
import {escapeText} from './text/escape-text.ts';
import {tool} from './version.ts';

/**
 * What to say of a defect: what it was, what it ran on and where it was seen, and what to send. Without the folders of
 * this computer, unless the whole of it is asked for.
 */
export function crashNote(error: unknown, whole: boolean): string {
	const oneLine = (text: string): string => escapeText(text.replace(/\s*\n\s*/g, ' '));
	const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
	const lines = [
		`glovebench: this is a defect in glovebench: ${oneLine(what)}.`,
		`  ${tool.name} ${tool.version}, Node ${process.versions.node}, ${process.platform} ${process.arch}`,
		...seenIn(error).map(place => `  in ${oneLine(place)}`),
		`  Please report these lines with the command you gave and the recording, if one is named above or was being made.${whole ? '' : ' GLOVEBENCH_DEBUG=1 shows more.'}`,
	];
	if (whole && error instanceof Error) lines.push(...(error.stack ?? '').split('\n').map(line => escapeText(line)));
	return `${lines.join('\n')}\n`;
}

/** The innermost places of a stack, by file name: enough to tell one defect from another. */
function seenIn(error: unknown): string[] {
	if (!(error instanceof Error)) return [];
	return (error.stack ?? '')
		.split('\n')
		.map(line => /^\s+at (?:(.*) \()?(?:file:\/\/)?(.+?:\d+:\d+)\)?$/.exec(line))
		.filter(match => match !== null)
		.slice(0, 3)
		.map(([, name, place]) => (name === undefined ? basename(place) : `${name} ${basename(place)}`));
}
