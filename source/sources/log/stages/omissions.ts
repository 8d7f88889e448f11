import {type LeftOut, omittedLines} from '../../../stream/intake.ts';
import type {LineStage, StageFinder} from './line-stage.ts';

/** A line that says that lines were taken out here: `[... 812 lines omitted ...]`, `<snip>`, `…`. */
const omission =
	/^\s*(?:[[(<{]\s*)?(?:(?:\.{3,}|\xe2\x80\xa6|-{2,}|\*{2,})\s*)?(?:(?:\d+\s+)?(?:more\s+)?(?:lines?|rows?|frames?|messages?)\s+(?:were\s+|are\s+)?(?:omitted|skipped|removed|deleted|cut|left out|truncated|hidden|suppressed)|snip(?:ped)?|truncated|omitted|cut here)(?:\s*(?:\.{3,}|\xe2\x80\xa6|-{2,}|\*{2,}))?(?:\s*[\])>}])?\s*$|^\s*(?:[[(<]\s*)?(?:\.{3,}|\xe2\x80\xa6)(?:\s*[\])>])?\s*$/i;

/** What stands in the place of an omission, for whoever reads the lines to break there; no log contains it. */
export const breakMark = '\u0001break\u0001';

export function isOmission(line: string): boolean {
	return omission.test(line);
}

class Omissions implements LineStage {
	#lines = 0;

	take(line: string, pass: (line: string) => void): void {
		if (!omission.test(line)) {
			pass(line);
			return;
		}

		this.#lines++;
		pass(breakMark);
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0 ? undefined : {what: omittedLines, lines: this.#lines};
	}
}

export const findOmissions: StageFinder = sample =>
	sample.some(line => omission.test(line)) ? new Omissions() : undefined;
