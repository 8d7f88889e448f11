import {roundFigures} from '../text/round-figures.ts';
import {tool} from '../version.ts';
import type {BringUpResult} from './bring-up-result.ts';

/** What `bringup --json` prints (schema 1): the pass/fail record with its numbers rounded to six figures. */
export function bringUpJson(
	result: BringUpResult,
	{kind, name}: {readonly kind: string; readonly name: string},
): unknown {
	return roundFigures({
		schema: 1,
		kind: 'bringup',
		tool: {name: tool.name, version: tool.version},
		source: {kind, name},
		...result,
	});
}
