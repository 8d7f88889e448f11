import {Framer} from '../../../source/framing/framer.ts';
import {openLog} from '../../../source/sources/log/log-source.ts';
import type {SourceIntake} from '../../../source/stream/intake.ts';
import type {Timing} from '../../../source/stream/source-item.ts';
import {Collected} from '../../framing/collect.ts';

/** Frames of a glove: five fingers and a stick that sweep at their own paces, in counts, and two buttons. */
export function gloveRows(count: number): number[][] {
	return Array.from({length: count}, (_, row) => [
		...Array.from({length: 7}, (_, column) =>
			Math.round(
				400 + 60 * column + (150 + 10 * column) * Math.sin(0.03 * row + 1.3 * column) + ((row * (7 + column)) % 3),
			),
		),
		row % 60 < 15 ? 1 : 0,
		row % 90 > 70 ? 1 : 0,
	]);
}

/** What a log was read as. */
export type Reading = {
	readonly timing: Timing;
	readonly names: readonly string[];
	readonly frames: readonly (readonly number[])[];
	readonly times: readonly number[];
	readonly bad: number;
	readonly stray: readonly string[];
	readonly sessions: readonly string[];
	readonly gaps: number;
	readonly intake: SourceIntake;
};

/** Reads a log, given in chunks of so many bytes, to its end. */
export async function readLog(log: string | Uint8Array, chunkBytes = 1 << 16): Promise<Reading> {
	const bytes = Buffer.from(log as string);
	const source = await openLog({
		name: 'glove.txt',
		chunks: (async function* () {
			for (let at = 0; at < bytes.byteLength; at += chunkBytes) yield Buffer.from(bytes.subarray(at, at + chunkBytes));
		})(),
	});
	const collected = new Collected();
	const framer = new Framer(collected);
	const sessions: string[] = [];
	let gaps = 0;
	let t = 0;
	for await (const batch of source.batches()) {
		for (const item of batch) {
			t = item.t;
			if ('bytes' in item) framer.push(t, item.bytes);
			else if ('event' in item && item.event === 'session') sessions.push(item.detail ?? '');
			else if ('event' in item && item.event === 'gap') gaps++;
		}
	}

	framer.end(t);
	return {
		timing: source.info.timing,
		names: collected.names,
		frames: collected.frames,
		times: collected.frameTimes,
		bad: collected.bad.length,
		stray: collected.stray,
		sessions,
		gaps,
		intake: source.intake!(),
	};
}
