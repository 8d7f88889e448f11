import {readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {bringUpText} from '../../source/bringup/bring-up-text.ts';
import {runBringUp} from '../../source/bringup/run-bring-up.ts';
import {CannotError} from '../../source/cannot-error.ts';
import {compareText} from '../../source/compare/compare-text.ts';
import {compareRuns} from '../../source/compare/comparison.ts';
import {fitSettings} from '../../source/fit/fit.ts';
import {fitHeader} from '../../source/fit/fit-header.ts';
import {fitText} from '../../source/fit/fit-text.ts';
import {type GatheredRun, gatherSource} from '../../source/fit/gather-source.ts';
import {Session} from '../../source/session/session.ts';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import {writeSheet} from '../../source/sheet/write-sheet.ts';
import type {Source} from '../../source/stream/source.ts';
import {memorySource} from '../gloves/memory-source.ts';
import {hostileStreams, seeded} from './hostile-streams.ts';
import {mutate} from './mutate.ts';

/** A hand at play in so many columns, now and then without a reading, or with one that is none. */
function gappy(columns: number): Uint8Array {
	const random = seeded(columns);
	const lines = Array.from({length: 500}, (_, frame) =>
		Array.from({length: columns}, (_column, column) =>
			random() < 0.03
				? ['nan', '', '9'.repeat(30), '-5', '0x1F'][column % 5]
				: column % 8 === 7
					? Number(frame % 50 < 9)
					: Math.floor(500 + 450 * Math.sin(frame / 15)) + column,
		).join(','),
	);
	return Buffer.from(`${lines.join('\n')}\n`);
}

function received(name: string): Buffer {
	const text = readFileSync(new URL(`../../recordings/${name}.gbrec`, import.meta.url), 'utf8');
	const items = text.split('\n', 1500).flatMap(line => {
		const {rx} = line === '' ? {} : (JSON.parse(line) as {rx?: string});
		return rx === undefined ? [] : [Buffer.from(rx)];
	});
	return Buffer.concat(items);
}

const streams: readonly (readonly [name: string, bytes: Uint8Array])[] = [
	...[
		'256 columns',
		'a layout that flips every 70 lines',
		'odd numbers among good frames',
		'inherited names as labels',
		'labels that are new every second',
		'random digits and separators',
	].map(name => [name, hostileStreams[name]!(15_000, 5)] as const),
	...[1, 2, 5, 8, 12, 40].map(columns => [`${columns} columns with gaps`, gappy(columns)] as const),
	...[1, 2, 3].map(seed => [`damaged play ${seed}`, mutate(received('healthy'), seed, 60)] as const),
];

function source(bytes: Uint8Array): Source {
	const items = Array.from({length: Math.ceil(bytes.length / 100)}, (_, index) => ({
		t: index / 30,
		bytes: bytes.subarray(100 * index, 100 * index + 100),
	}));
	return memorySource(items, {name: 'x', baud: 115_200});
}

const noNumber = /NaN|Infinity|undefined/;
const {signal} = new AbortController();

describe('routines on hostile streams', () => {
	it('fit and compare give settings and figures that are numbers, or say in one line why not', async () => {
		let before: GatheredRun | undefined;
		for (const [name, bytes] of streams) {
			try {
				const run = await gatherSource(source(bytes), {session: {}, signal});
				const result = fitSettings(run.session, run.gathered, undefined);
				expect(fitText(result, 'x'), name).not.toMatch(noNumber);
				expect(fitHeader(result, 'x'), name).not.toMatch(noNumber);
				if (before) expect(compareText(compareRuns(before, run)), name).not.toMatch(noNumber);
				before = run;
			} catch (error) {
				expect(error, name).toBeInstanceOf(CannotError);
			}
		}

		expect(before).toBeDefined();
	});

	// Found by fuzzing: the channels of a second glove on the line went into the sheet under names it does not take.
	it('bringup judges with numbers, and the sheet as built can be read again', async () => {
		for (const [name, bytes] of streams) {
			const {result} = await runBringUp(source(bytes), {session: {}, sheet: undefined, isPrompted: false, signal});
			if (result === undefined) continue;
			expect(bringUpText(result, 'x'), name).not.toMatch(noNumber);
			expect(parseSheet(writeSheet(result.asBuilt)).problems, name).toEqual([]);
		}
	});

	it('a healthy hand with a reading missing here and there has no fault', () => {
		const random = seeded(3);
		const session = new Session({timing: 'measured', baud: 115_200});
		for (let frame = 0; frame < 2000; frame++) {
			const t = frame / 100;
			const fields = [0, 1, 2, 3, 4].map(finger => {
				const bend = 0.5 - 0.5 * Math.cos(2 * t - finger * 0.05);
				return Math.round(150 + (650 + 40 * finger) * bend + 30 * finger + 2 * (random() - random()));
			});
			session.push({
				t,
				bytes: Buffer.from(`${fields.map((field, column) => (column === frame % 90 ? 'nan' : field)).join(',')}\n`),
			});
		}

		session.end();
		expect(session.findings.map(({code, channel}) => `${code} ${channel}`)).toEqual([]);
	});
});
