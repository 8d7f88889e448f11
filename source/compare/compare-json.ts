import {roundFigures} from '../text/round-figures.ts';
import {tool} from '../version.ts';
import type {Comparison} from './comparison.ts';

/** What `compare --json` prints (schema 1): the comparison with its numbers rounded to six figures. */
export function compareJson(comparison: Comparison): unknown {
	return roundFigures({schema: 1, tool: {name: tool.name, version: tool.version}, ...comparison});
}
