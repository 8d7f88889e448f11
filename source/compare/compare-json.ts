import {roundFigures} from '../text/round-figures.ts';
import {tool} from '../version.ts';
import type {Comparison} from './comparison.ts';

/** What `compare --json` prints (schema 2): the comparison with its numbers rounded to six figures. */
export function compareJson(comparison: Comparison): unknown {
	return roundFigures({schema: 2, kind: 'compare', tool: {name: tool.name, version: tool.version}, ...comparison});
}
