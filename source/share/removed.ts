import type {Sheet} from '../sheet/sheet.ts';
import type {SourceInfo} from '../stream/source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';
import type {HeaderFacts} from './header-facts.ts';

/** What stands in the copy where the source's name was. */
export const sharedName = 'glove';

/** Widest quotation in the list of what was removed. */
const quoteColumns = 60;

const quote = (text: string) => escapeText(text.replace(/\s+/g, ' '), quoteColumns);

/**
 * What a copy leaves out about the person, the computer and the day, a line each, for them to see.
 *
 * @param items All items of the original.
 * @param header What else its header says.
 */
export function removedLines(
	info: SourceInfo,
	items: readonly SourceItem[],
	sheet: Sheet | undefined,
	header: HeaderFacts,
): string[] {
	const lines = [`the source's name: ${quote(header.sourceName ?? info.name)}`];
	if (info.startedAt) lines.push(`date and time of its start: ${quote(info.startedAt)}`);
	else if (info.timing === 'column') lines.push('the times before each line; seconds from the start stay');
	if (info.note) lines.push(`the note: ${quote(info.note)}`);
	const marks = items.filter(item => 'mark' in item).length;
	if (marks > 0) lines.push(marks === 1 ? 'a mark made while recording' : `${marks} marks made while recording`);
	const details = items.filter(item => 'event' in item && item.detail !== undefined).length;
	if (details > 0) lines.push(`details of ${details === 1 ? 'an event' : `${details} events`} of the link`);
	if (sheet?.name !== undefined) lines.push(`the glove's name in the sheet: ${quote(sheet.name)}`);
	if (sheet?.note !== undefined) lines.push(`the sheet's note: ${quote(sheet.note)}`);
	for (const name of header.extras) lines.push(`from the header: ${quote(name)}`);
	return lines;
}

/** The sheet without what its writer called the glove and noted about it. */
export function sheetToShare(sheet: Sheet): Sheet {
	const {name: _name, note: _note, ...rest} = sheet;
	return rest;
}
