import type {Why} from '../session/check-rows.ts';
import type {SourceInfo} from '../stream/source.ts';
import {roundFigures} from '../text/round-figures.ts';
import {tool} from '../version.ts';

/** What `check --why CODE --json` prints: schema 1, described in docs/schemas/check-why.schema.json. */
export function whyJson(code: string, rows: readonly Why[], {kind, name, timing}: SourceInfo): unknown {
	return roundFigures({
		schema: 1,
		kind: 'check-why',
		tool: {name: tool.name, version: tool.version},
		source: {kind, name, timing},
		code,
		rows: rows.map(({channel, state, seen, needed, next, way, gate, saw, asks}) => ({
			...{channel, state, seen, needed, next, way, gate, saw, asks},
		})),
	});
}
