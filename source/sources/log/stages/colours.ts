import {dropTerminalCodes, spelledTerminalCodes} from '../../../framing/terminal-codes.ts';
import {LineChange, type StageFinder} from './line-stage.ts';

/** Terminal colours, with their ESC or with what became of it on the way. */
export const findColours: StageFinder = sample => {
	const spelled = sample.some(line => {
		spelledTerminalCodes.lastIndex = 0;
		return spelledTerminalCodes.test(line) || spelledUtf8.test(line);
	});
	// A lone ESC may be anything.
	if (!spelled && !sample.some(line => /\u001b\[[\d;?]*[A-Za-z]/.test(line))) return undefined;
	return new LineChange('terminal colours', line => {
		let text = line;
		if (text.includes('\u001b')) text = text.replaceAll(usual, '');
		// What is no colour takes longer.
		if (text.includes('\u001b')) {
			const bytes = Buffer.from(text, 'latin1');
			text = bytes.toString('latin1', 0, dropTerminalCodes(bytes, 0, bytes.length));
		}

		return spelled ? text.replaceAll(spelledUtf8, '\\e[').replaceAll(spelledTerminalCodes, '') : text;
	});
};

/** Control sequences as nearly all of them are: CSI of ECMA-48. */
const usual = /\u001b\[[0-?]*[ -/]*[@-~]/g;

/** The sign for ESC (U+241B) and the replacement character (U+FFFD) in UTF-8, one character a byte. */
const spelledUtf8 = /(?:\xe2\x90\x9b|\xef\xbf\xbd)\[/g;
