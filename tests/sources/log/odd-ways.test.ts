import {describe, expect, it, test} from 'vitest';
import {CannotError} from '../../../source/cannot-error.ts';
import {runSession} from '../../../source/session/run-session.ts';
import {openLog} from '../../../source/sources/log/log-source.ts';
import {gloveRows, readLog} from './disguised.ts';

const rows = gloveRows(120);
const other = gloveRows(240).slice(120);
const five = ['thumb', 'index', 'middle', 'ring', 'little'];
const glove = [...five, 'stick-x', 'stick-y', 'button-1', 'button-2'];
const plain = rows.map(row => row.join());
const labels = (row: readonly number[]): string => five.map((name, i) => `${name}:${row[i]}`).join(' ');
const text = (lines: readonly string[]): string => `${lines.join('\n')}\n`;

describe('two frames on a line now and then', () => {
	/** Every tenth pair of lines on one. */
	const joined = (lines: readonly string[], gap: string): string[] =>
		lines.flatMap((line, i) => (i % 20 === 9 ? [] : i % 20 === 10 ? [`${lines[i - 1]}${gap}${line}`] : [line]));

	test.each([',', ' ', '; ', ' | '])('are cut where "%s" stands between them', async gap => {
		const reading = await readLog(text(joined(plain, gap)));
		expect(reading.frames).toEqual(rows);
		expect([reading.names, reading.bad, reading.stray]).toEqual([glove, 0, []]);
		expect(reading.intake.leftOut).toEqual([{what: 'lines with two frames each, cut in two', lines: 6}]);
	});

	it('are cut with labels, and in brackets', async () => {
		for (const [lines, values] of [
			[rows.map(labels), rows.map(row => row.slice(0, 5))],
			[plain.map(line => `[${line}]`), rows],
		] as const) {
			const reading = await readLog(text(joined(lines, ' ')));
			expect(reading.frames).toEqual(values);
			expect(reading.bad).toBe(0);
		}
	});

	it('are damage where nothing stands between them: the line end was lost on the way', async () => {
		const reading = await readLog(text(joined(plain, '')));
		expect(reading.frames).toHaveLength(rows.length - 12);
		expect(reading.bad).toBe(6);
		expect(reading.intake.leftOut).toEqual([]);
	});
});

describe('two gloves by turns, told apart by whatever stands in front', () => {
	const clock = (i: number): string =>
		`09:14:${String(7 + Math.floor(i / 100)).padStart(2, '0')}.${String((i % 100) * 10).padStart(3, '0')}`;
	const hands = [...glove.slice(0, 7), ...glove.slice(0, 7).map(name => `${name}-2`)];
	const both = rows.map((row, i) => [...row.slice(0, 7), ...other[i].slice(0, 7)]);
	test.each<[string, (values: string, hand: 0 | 1, i: number) => string]>([
		['names and a colon', (values, hand) => `G${hand + 1}: ${values}`],
		['names and a blank', (values, hand) => `glove${hand + 1} ${values}`],
		['two ports', (values, hand) => `COM${hand + 5}: ${values}`],
		['a time and a name', (values, hand, i) => `${clock(i)} -> ${'AB'[hand]}: ${values}`],
		['a logger and a name', (values, hand, i) => `I (${1234 + 10 * i}) pup${hand}: ${values}`],
		['left and right', (values, hand, i) => `${clock(i)} -> ${'LR'[hand]}: ${values}`],
	])('%s', async (_, line) => {
		const lines = rows.flatMap((row, i) => [
			line(row.slice(0, 7).join(), 0, i),
			line(other[i].slice(0, 7).join(), 1, i),
		]);
		const reading = await readLog(text(lines));
		expect(reading.names).toEqual(hands);
		expect(reading.frames).toEqual(both);
		expect([reading.bad, reading.stray]).toEqual([0, []]);
		expect(reading.intake.leftOut).toContainEqual({what: 'lines of two gloves by turns, two to a frame', lines: 240});
	});

	it('tells of lines whose other glove is missing', async () => {
		const lines = rows.flatMap((row, i) => [
			`L,${row.slice(0, 7).join()}`,
			...(i % 10 === 4 ? [] : [`R,${other[i].slice(0, 7).join()}`]),
		]);
		const reading = await readLog(text(lines));
		expect(reading.frames).toEqual(both.filter((_, i) => i % 10 !== 4));
		expect(reading.intake.leftOut).toEqual([
			{what: 'lines of two gloves by turns, two to a frame', lines: 216},
			{what: 'lines of one glove without the other one’s', lines: 12},
		]);
	});

	it('is not seen in levels of a logger, nor in a chat where each says something', async () => {
		for (const line of [
			(row: readonly number[], i: number) => `${i % 2 === 0 ? 'INFO' : 'DEBUG'}: ${row.join()}`,
			(row: readonly number[], i: number) => `${'IW'[i % 2]} (${1234 + 10 * i}) glove: ${row.join()}`,
		]) {
			const reading = await readLog(text(rows.map(line)));
			expect(reading.frames).toEqual(rows);
		}
	});
});

describe('times', () => {
	test.each([
		['a colon', ': '],
		['an arrow', ' -> '],
		['a blank', ' '],
	])('in milliseconds and microseconds, set off by %s', async (_, gap) => {
		const us = (i: number): number => (i * 377) % 1000;
		const reading = await readLog(text(rows.map((row, i) => `${1000 + 10 * i},${us(i)}${gap}${row.join()}`)));
		expect(reading.names).toEqual(glove);
		expect(reading.frames).toEqual(rows);
		expect(reading.timing).toBe('column');
		expect(reading.times.at(-1)).toBeCloseTo(1.19 + us(119) / 1e6, 6);
	});

	it('in milliseconds and microseconds with zeros in front, before values with commas', async () => {
		const us = (i: number): string => String((i * 377) % 1000).padStart(3, '0');
		const reading = await readLog(text(rows.map((row, i) => `${1000 + 10 * i},${us(i)},${row.join()}`)));
		expect(reading.names).toEqual(glove);
		expect(reading.frames).toEqual(rows);
	});

	it('too coarse for single lines are said to be that', async () => {
		const reading = await readLog(text(rows.map((row, i) => `${(i / 100).toFixed(2)}\t${row.join('\t')}`)));
		expect(reading.timing).toBe('assumed');
		expect(reading.intake.coarseTimes).toBe(true);
	});
});

describe('a logger’s own words', () => {
	test.each([
		['a handle', (values: string) => `notification handle = 0x0025 value: ${values.replaceAll(',', ' ')}`],
		['a count of bytes', (values: string) => `RX (${values.length} bytes): ${values}`],
		['a sentence', (values: string) => `Received from the left glove: ${values}`],
	])('go: %s', async (_, line) => {
		const reading = await readLog(text(plain.map(line)));
		expect(reading.names).toEqual(glove);
		expect(reading.frames).toEqual(rows);
		expect(reading.intake.leftOut).toHaveLength(1);
	});

	it('a first channel that never moves is none', async () => {
		const reading = await readLog(
			text(rows.map(row => `sensor_a:512 sensor_b:${row[1]} sensor_c:${row[2]} sensor_d:${row[3]}`)),
		);
		expect(reading.frames[0]).toEqual([512, ...rows[0].slice(1, 4)]);
	});
});

describe('labels', () => {
	it('with a number of two hexadecimal digits behind `=` are no mail', async () => {
		const reading = await readLog(
			text(
				rows.map(row =>
					row
						.slice(0, 7)
						.map((value, i) => `s${i}=${value}`)
						.join(','),
				),
			),
		);
		expect(reading.frames).toEqual(rows.map(row => row.slice(0, 7)));
		expect(reading.intake.leftOut).toEqual([]);
	});

	it('that are words make buttons of columns with two values among the first five', async () => {
		const reading = await readLog(
			text(
				rows.map(row => `anna:${row[0]} bert:${row[1]} carl:${row[2]} dora:${row[3]} laugh:${row[7]} bow:${row[8]}`),
			),
		);
		expect(reading.names).toEqual(['thumb', 'index', 'middle', 'ring', 'laugh', 'bow']);
	});

	it('that are letters of the Greek alphabet are fingers in order', async () => {
		const reading = await readLog(
			text(rows.map(row => `alpha:${row[0]} beta:${row[1]} gamma:${row[2]} delta:${row[3]} epsilon:${row[4]}`)),
		);
		expect(reading.names).toEqual(five);
	});
});

describe('columns that are not the hand’s', () => {
	it('0.00 all along, among whole numbers, is no button', async () => {
		const reading = await readLog(text(plain.map(line => `${line},0.00,0.00,0.00`)));
		expect(reading.names).toEqual([...glove, 'spare-1', 'spare-2', 'spare-3']);
	});

	test.each([
		['0 to 360', (i: number) => (350 + i * 0.37) % 360],
		['−180 to 180', (i: number) => ((170 + i * 0.37 + 180) % 360) - 180],
	])('a heading that turns evenly from %s is no clock that starts again', async (_, yaw) => {
		const reading = await readLog(text(rows.map((row, i) => `${row.join()},${yaw(i).toFixed(1)}`)));
		expect(reading.names).toEqual([...glove, 'spare-1']);
	});
});

describe('poses', () => {
	const pose = (i: number): object => ({
		t: i / 90,
		pos: {x: Math.sin(i / 20), y: 1, z: 0.2},
		rot: {w: Math.cos(i / 50), x: Math.sin(i / 50) * 0.6, y: Math.sin(i / 50) * 0.8, z: 0},
	});
	it('as objects are refused with the command for them', async () => {
		const error = await readLog(text(rows.map((_, i) => JSON.stringify(pose(i))))).catch(caught => caught);
		expect(error).toBeInstanceOf(CannotError);
		expect(String(error)).toContain('glovebench mount');
	});

	it('with angles are refused, and what mount wants is said', async () => {
		const lines = rows.map((_, i) =>
			[i / 90, Math.sin(i / 20), 1, 0.2, i % 90, i % 40, i / 9].map(v => v.toFixed(4)).join(),
		);
		const error = await readLog(text(['time,x,y,z,roll,pitch,yaw', ...lines])).catch(caught => caught);
		expect(error).toBeInstanceOf(CannotError);
		expect(String(error)).toContain('quaternion');
	});

	it('a glove’s object with its stick and its turn is no pose', async () => {
		const lines = rows.map((row, i) =>
			JSON.stringify({...pose(i), pos: undefined, fingers: row.slice(0, 5), stick: {x: row[5], y: row[6]}}),
		);
		expect((await readLog(text(lines))).names).toEqual(expect.arrayContaining(['stick-x', 'stick-y', ...five]));
	});
});

it('a note that lines were left out is no silence and no stall, however long it took', async () => {
	const clock = (seconds: number): string =>
		`09:${String(14 + Math.floor(seconds / 60)).padStart(2, '0')}:${(seconds % 60).toFixed(3).padStart(6, '0')}`;
	const long = gloveRows(1200);
	const lines = long.map((row, i) => `${clock(i / 100 + (i < 600 ? 0 : 20))} -> ${row.join()}`);
	const log = text([...lines.slice(0, 600), '[... 2000 lines omitted ...]', ...lines.slice(600)]);
	const source = await openLog({
		name: 'glove.txt',
		chunks: (async function* () {
			yield Buffer.from(log);
		})(),
	});
	const {snapshot} = await runSession(source);
	expect(snapshot.findings.map(({code}) => code)).toEqual([]);
	expect(snapshot.link.outages).toBe(0);
});
