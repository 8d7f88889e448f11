import {FrameFeed} from '../../source/fit/frame-feed.ts';
import {type GatheredLayout, Gatherer} from '../../source/fit/gather.ts';
import {Session} from '../../source/session/session.ts';
import type {SessionOptions} from '../../source/session/session-options.ts';
import type {GloveSpec} from '../../source/simulator/glove.ts';
import {parseScript} from '../../source/simulator/script-text.ts';
import {type SimulationSpec, simulate, type Truth} from '../../source/simulator/simulate.ts';
import {plainLink, plainStream} from '../../source/simulator/stream-spec.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';

/** A plain text stream of this glove, fast enough a line for any rate. */
export function simulation(
	seed: number,
	glove: GloveSpec,
	script: string,
	changes: Partial<SimulationSpec> & {rate?: number} = {},
): SimulationSpec {
	const {rate = 100, ...rest} = changes;
	return {
		seed,
		durationSeconds: 60,
		glove,
		stream: {...plainStream, rate},
		link: {...plainLink, baud: 500_000},
		script: parseScript(script),
		faults: [],
		start: 'clean',
		...rest,
	};
}

/** Runs items through a session and gathers its frames. */
export function gatherItems(
	items: readonly SourceItem[],
	options: Partial<SessionOptions> = {},
): {session: Session; gathered: GatheredLayout} {
	const session = new Session({timing: 'measured', ...options});
	const gatherer = new Gatherer();
	const feed = new FrameFeed(gatherer);
	items.forEach((item, i) => {
		session.push(item);
		if (i % 64 === 63) feed.drain(session);
	});
	session.end();
	feed.drain(session);
	return {session, gathered: gatherer.main!};
}

/** What the truth says about the stream, as a session is told it. */
export function declaredBy(truth: Truth): Partial<SessionOptions> {
	return {fullScale: truth.outputFullScale, layout: truth.columns.join(',')};
}

/** Frames of a text simulation as rows of numbers. */
export function rowsOf(items: readonly SourceItem[]): number[][] {
	const decoder = new TextDecoder();
	const text = items.map(item => ('bytes' in item ? decoder.decode(item.bytes, {stream: true}) : '')).join('');
	const lines = text.split('\r\n');
	// The stream may end within a line.
	lines.pop();
	return lines.map(line => line.split(',').map(Number));
}

/**
 * The range that each channel really used: the extremes of the same simulation, seed and movements, with a converter
 * that has no noise. Faults must not be in it.
 */
export function quietRanges(spec: SimulationSpec): Map<string, {low: number; high: number}> {
	const {glove} = spec;
	const {items, truth} = simulate({
		...spec,
		glove: {...glove, board: {...glove.board, noiseRmsCounts: 0, noiseTail: 0}},
		faults: [],
	});
	const rows = rowsOf(items);
	return new Map(
		truth.columns.map((name, column) => {
			let low = Number.POSITIVE_INFINITY;
			let high = Number.NEGATIVE_INFINITY;
			for (const row of rows) {
				low = Math.min(low, row[column]);
				high = Math.max(high, row[column]);
			}

			return [name, {low, high}] as const;
		}),
	);
}

/** Encodes rows of numbers as a text stream at a rate. */
export function itemsOf(rows: Iterable<readonly number[]>, framesPerSecond: number): SourceItem[] {
	const encoder = new TextEncoder();
	const items: SourceItem[] = [];
	for (const row of rows) {
		items.push({t: items.length / framesPerSecond, bytes: encoder.encode(`${row.join(',')}\r\n`)});
	}

	return items;
}
