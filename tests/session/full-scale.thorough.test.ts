import {describe, expect, it} from 'vitest';
import {runSession} from '../../source/session/run-session.ts';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {simulationFromOptions} from '../../source/simulator/simulation-from-options.ts';
import {StampedLines} from '../../source/simulator/stamped-lines.ts';
import {openBytes} from '../../source/sources/open-file.ts';

// Three settings that name another full scale than the board's, each made from a sound glove by the recipe that was worked
// out outside the project (check-values M-B): 40 s of `simulate --stamp --format comma`, script `rest 2s, fist 8x, each 2x`, and what
// awk makes of it. Each gives wrong-full-scale alone.

const seeds = [1, 2];

/** `raw.log` of an 8-bit board, `e.log` of one with a 12-bit converter. */
function log(board: 'avr' | 'esp32', seed: number): string {
	const script = 'rest 2s, fist 8x, each 2x';
	const {items} = simulate(simulationFromOptions({board, seed, script, for: 40, format: 'comma'}));
	const stamped = new StampedLines();
	return Buffer.concat(items.flatMap(item => ('bytes' in item ? [stamped.push(item.t, item.bytes)] : []))).toString();
}

/** Time, fingers, stick axes, buttons: `$1`, `$2`…`$6`, `$7` `$8`, `$9` `$10` of awk with the separators blank and comma. */
const frame = /^(\d+\.\d+) (\d+(?:,\d+){8})\r?$/;

/** What awk prints of every frame: its numbers changed by their place, 0 for the thumb. */
function awk(text: string, change: (value: number, place: number) => number): string {
	const lines = text.split('\n').map(line => {
		const match = frame.exec(line);
		return match === null ? line : `${match[1]} ${match[2].split(',').map(Number).map(change).join(',')}`;
	});
	return lines.join('\n');
}

async function check(text: string, fullScale?: number): Promise<Snapshot> {
	const chunks = (async function* () {
		yield Buffer.from(text);
	})();
	const session = fullScale === undefined ? {} : {fullScale};
	return (await runSession(await openBytes('a.log', chunks, {}), {session})).snapshot;
}

const told = ({findings}: Snapshot): string[] =>
	findings.map(({code, channel}) => (channel === null ? code : `${code} on ${channel}`));

const [fingers, axes] = [5, 2];

/** 12-bit readings limited to 1023, fingers and stick. */
const limited = (text: string): string =>
	awk(text, (value, place) => (place < fingers + axes ? Math.min(value, 1023) : value));

/** 12-bit fingers turned round with the top of 10 bit. */
const turned = (text: string): string => awk(text, (value, place) => (place < fingers ? 1023 - value : value));

describe.each(seeds)('full scale of glove %i', seed => {
	const [raw, e] = [log('avr', seed), log('esp32', seed)];

	it('10 bit declared as 4095 gives wrong-full-scale alone, and says 1023', async () => {
		const snapshot = await check(raw, 4095);
		expect(told(snapshot)).toEqual(['wrong-full-scale']);
		expect(snapshot.findings[0]).toMatchObject({status: 'out-of-spec', from: 0, evidence: {shouldBe: 1023, set: 4095}});
		// Why a stick tells it: its middle, 511.5, is 12.49 % of 4095, where a stick of 12 bit never rests.
		expect((100 * 511.5) / 4095).toBeCloseTo(12.49, 2);
	});

	it('12 bit limited to 1023 gives wrong-full-scale alone, and says 4095', async () => {
		const snapshot = await check(limited(e));
		expect(told(snapshot)).toEqual(['wrong-full-scale']);
		expect(snapshot.findings[0].evidence.shouldBe).toBe(4095);
	});

	it('12 bit turned round with 1023 gives wrong-full-scale alone, and says 4095', async () => {
		const text = turned(e);
		const snapshot = await check(text);
		expect(told(snapshot)).toEqual(['wrong-full-scale']);
		expect(snapshot.findings[0].evidence.shouldBe).toBe(4095);
		// Both places where the number stands.
		expect(snapshot.findings[0].summary).toMatch(/firmware.* host/);
		// No reading can be below 1023 − 4095.
		const values = text.split('\n').flatMap(line => line.split(' ')[1]?.split(',').slice(0, fingers).map(Number) ?? []);
		const lowest = values.reduce((least, value) => Math.min(least, value), 0);
		expect(lowest).toBeLessThan(0);
		expect(lowest).toBeGreaterThanOrEqual(-3072);
		expect(1023 - 4095).toBe(-3072);
	});

	it('says nothing of the same gloves as they are, nor of centred sticks, nor of a glove that is signed throughout', async () => {
		expect(told(await check(raw, 1023))).toEqual([]);
		expect(told(await check(raw))).toEqual([]);
		expect(told(await check(e, 4095))).toEqual([]);
		expect(told(await check(e))).toEqual([]);
		const isAxis = (place: number) => place >= fingers && place < fingers + axes;
		const centred = awk(raw, (value, place) => (isAxis(place) ? value - 512 : value));
		expect(told(await check(centred))).not.toContain('wrong-full-scale');
		const signed = awk(raw, (value, place) => (place < fingers + axes ? value - 512 : value));
		expect(told(await check(signed))).not.toContain('wrong-full-scale');
	});
});
