import {findingName} from '../faults/plain-name.ts';
import {roundFigures} from '../text/round-figures.ts';
import {tool} from '../version.ts';
import type {FitResult} from './fit-result.ts';
import {noteText} from './note-text.ts';

/**
 * What `fit --json` prints (schema 1): the result with its numbers rounded to six figures, its notes as
 * sentences and its findings as `code on channel`.
 */
export function fitJson(result: FitResult, {kind, name}: {readonly kind: string; readonly name: string}): unknown {
	return roundFigures({
		schema: 1,
		kind: 'fit',
		tool: {name: tool.name, version: tool.version},
		source: {kind, name},
		...result,
		fingers: result.fingers.map(finger => ({...finger, notes: finger.notes.map(noteText)})),
		findings: result.findings.map(findingName),
	});
}
