import {roundFigures} from '../text/round-figures.ts';
import {tool} from '../version.ts';
import type {FitResult} from './fit-result.ts';

/** What `fit --json` prints (schema 1): the result with its numbers rounded to six figures. */
export function fitJson(result: FitResult, {kind, name}: {readonly kind: string; readonly name: string}): unknown {
	return roundFigures({
		schema: 1,
		kind: 'fit',
		tool: {name: tool.name, version: tool.version},
		source: {kind, name},
		...result,
	});
}
