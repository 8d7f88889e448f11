import {readFileSync} from 'node:fs';
import Quaternion from 'quaternion';
import stringWidth from 'string-width';
import {describe, expect, it} from 'vitest';
import {reportCommand} from '../../source/commands/report.ts';
import {sheetCommand} from '../../source/commands/sheet.ts';
import {type SimulateOptions, simulateCommand} from '../../source/commands/simulate.ts';
import {runCaptured} from '../commands/run-captured.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {lines, runMount, slow, trial, verifyWith} from './mount-bench.ts';
import {solveText} from './read-trial.ts';
import {drawTrial, errorsOf, trialText, type Vec} from './trial.ts';

const folder = testFolder();
const {at, write} = folder;
const rowsOf = () => lines.slice(1).map(line => line.split(','));
const isRight = ({result}: ReturnType<typeof solveText>) => {
	const {degrees, mm} = errorsOf(trial, result.turn, result.point);
	return degrees < 6 && mm < 5;
};

describe('a log of poses is read', () => {
	const forms: readonly [string, () => string][] = [
		['CSV with names', () => lines.join('\n')],
		['TSV without names, quaternion x first', () => trialText(trial, 'xyzw', false).replaceAll(',', '\t')],
		[
			'blanks, and comments',
			() =>
				`# a log\n${rowsOf()
					.map(row => row.join('  '))
					.join('\n')}`,
		],
		[
			'semicolons and decimal commas',
			() => [lines[0].replaceAll(',', ';'), ...rowsOf().map(row => row.join(';').replaceAll('.', ','))].join('\r\n'),
		],
		[
			'NDJSON with lists, epoch milliseconds',
			() =>
				rowsOf()
					.map(([t, x, y, z, w, i, j, k]) =>
						JSON.stringify({
							timestamp: Math.round(1.7e12 + Number(t) * 1000),
							position: [x, y, z].map(Number),
							rotation: [i, j, k, w].map(Number),
						}),
					)
					.join('\n'),
		],
		[
			'names with units in mm, clock times',
			() =>
				[
					'time,x [mm],y [mm],z [mm],rot_x,rot_y,rot_z,rot_w',
					...rowsOf().map(([t, x, y, z, w, i, j, k]) =>
						[
							`2026-01-02T03:04:${(Number(t) + 2).toFixed(4).padStart(7, '0')}`,
							...[x, y, z].map(v => (1000 * Number(v)).toFixed(3)),
							i,
							j,
							k,
							w,
						].join(','),
					),
				]
					.slice(0, 1700)
					.join('\n'),
		],
		['the inverse quaternion', () => trialText(trial, 'wxyz', false, true)],
	];

	it.each(forms)('%s', (_, text) => {
		expect(isRight(solveText(text()))).toBe(true);
	});

	it('with the sign of every other quaternion turned', () => {
		const flipped = [
			lines[0],
			...rowsOf().map((row, index) =>
				[...row.slice(0, 4), ...row.slice(4).map(v => (index % 2 ? String(-Number(v)) : v))].join(','),
			),
		];
		expect(isRight(solveText(flipped.join('\n')))).toBe(true);
	});

	it.each([
		['x', [1, 0, 0]],
		['-x', [-1, 0, 0]],
		['z', [0, 0, 1]],
		['-z', [0, 0, -1]],
	] as const)('with %s up, which is found and told with the runner-up', (name, up) => {
		const {readAs} = solveText(trialText(drawTrial({seed: 40, up: [...up] as Vec, ...slow})));
		expect(readAs.upAxis).toMatchObject({is: name, by: 'data'});
		expect(readAs.upAxis!.times).toBeGreaterThan(3);
	});

	it.each(['cm', 'mm'] as const)('in %s, found by how far the hand moved', unit => {
		const factor = unit === 'cm' ? 100 : 1000;
		const text = [
			lines[0],
			...rowsOf().map(([t, x, y, z, ...q]) => [t, ...[x, y, z].map(v => factor * Number(v)), ...q].join(',')),
		].join('\n');
		const solved = solveText(text);
		expect(solved.readAs.unit.is).toBe(unit);
		expect(isRight(solved)).toBe(true);
	});

	it('from standard input and from a file, as text within 80 columns and status 0', async () => {
		const {status, text} = await runMount({poses: '-'}, lines.join('\n'));
		expect(status).toBe(0);
		expect(text).toMatch(/^PASS/);
		expect(text).toContain('Tracker to hand');
		expect(text).toContain('XYZ intrinsic, ZYX extrinsic');
		for (const line of text.split('\n')) expect(stringWidth(line), line).toBeLessThanOrEqual(80);
		const file = await runMount({poses: write('poses.csv', lines.join('\n'))});
		expect(file.text.replace(/of \S+;\s/, '')).toContain('PASS');
	});

	it('of a left hand with --hand left, whose thumb is on the other side', () => {
		const left = drawTrial({seed: 12, hand: 'left', ...slow});
		const {result} = solveText(trialText(left), {hand: 'left'});
		expect(errorsOf(left, result.turn, result.point).degrees).toBeLessThan(6);
		expect(result.verdict).toBe('pass');
	});
});

describe('what is wrong with a log is said in a line', () => {
	const broken = (change: (row: string[], index: number) => string[] | undefined) =>
		[lines[0], ...rowsOf().flatMap((row, index) => change(row, index)?.join(',') ?? [])].join('\n');

	it('jumps of tracking: cut there, and the rest still gives the offset', () => {
		const far = lines.length - 60;
		const solved = solveText(
			broken((row, index) => (index > far ? [row[0], String(Number(row[1]) + 3), ...row.slice(2)] : row)),
		);
		expect(solved.readAs.notes.join(' ')).toContain('The tracking jumped 1 time by more than 0.2 m or 60°');
		expect(isRight(solved)).toBe(true);
	});

	it('a jump away and back in the middle of the pivot', () => {
		const pivot = trial.steps.find(({name}) => name === 'pivot')!;
		const middle = Math.round(((pivot.from + pivot.to) / 2) * 30);
		const solved = solveText(
			broken((row, index) => (index === middle ? [row[0], String(Number(row[1]) + 3), ...row.slice(2)] : row)),
		);
		expect(isRight(solved)).toBe(true);
		expect(solved.result.verdict).toBe('pass');
	});

	it('poses that stand frozen to the last digit, and quaternions of length 0: left out', () => {
		const text = broken((row, index) =>
			index > 20 && index < 50
				? [row[0], ...rowsOf()[20].slice(1)]
				: index < 5
					? [...row.slice(0, 4), '0', '0', '0', '0']
					: row,
		);
		const {readAs} = solveText(text);
		expect(readAs.notes.join(' ')).toMatch(/5 rows have quaternions of length 0/);
		expect(readAs.notes.join(' ')).toMatch(/rows repeat the one before/);
	});

	it('times that do not rise, and times that come twice', () => {
		expect(() => solveText(broken((row, index) => [String(index % 2 ? index : 2 * index), ...row.slice(1)]))).toThrow(
			/do not rise: \d+ of \d+ rows/,
		);
		const {readAs} = solveText(broken((row, index) => (index === 100 ? rowsOf()[99] : row)));
		expect(readAs.notes.join(' ')).toContain('1 row has the time of the row before');
	});

	it('no times at all: --rate is assumed and told', () => {
		const solved = solveText(
			broken(row => row)
				.split('\n')
				.map(line => line.split(',').slice(1).join(','))
				.join('\n'),
			{rate: 30},
		);
		expect(solved.readAs.notes.join(' ')).toContain('30 rows a second were assumed (--rate)');
		expect(isRight(solved)).toBe(true);
	});

	it('two devices: the names are listed, and --device chooses', async () => {
		const text = [
			't,device,x,y,z,qw,qx,qy,qz',
			...rowsOf().flatMap(([t, ...rest]) => [
				[t, 'wrist', ...rest].join(','),
				[t, 'head', '0', '1.7', '0', '1', '0', '0', '0'].join(','),
			]),
		].join('\n');
		const poses = write('two.csv', text);
		await expect(runMount({poses})).rejects.toThrow(
			/the poses of 2 things: (?:wrist|head) \(\d+ rows\) and .* Name the tracker with --device/,
		);
		await expect(runMount({poses, device: 'wirst'})).rejects.toThrow(/no rows of that name/);
		expect((await runMount({poses, device: 'wrist'})).status).toBe(0);
	});

	it('one gesture missing: the position is given, the rotation too with a larger ±, and the pose is named', () => {
		const steps = trial.steps.filter(({name}) => name !== 'fingers-down');
		const {result} = solveText(lines.join('\n'), {steps});
		expect(result.verdict).toBe('unproven');
		expect(result.point).not.toBeNull();
		expect(result.missing[0].move).toContain('fingers point straight down');
		const one = solveText(lines.join('\n'), {
			steps: trial.steps.filter(({name}) => name === 'palm-down' || name === 'pivot'),
		}).result;
		expect(one.turn).toBeNull();
		expect(one.point).not.toBeNull();
	});

	it('five poses held in a log: which is which is asked for, and the position is given', () => {
		const last = trial.steps.filter(({name}) => name === 'fingers-down')[1];
		const {result} = solveText(
			broken(row => (Number(row[0]) >= last.from + 0.5 && Number(row[0]) <= last.to ? undefined : row)),
		);
		expect(result.missing[0].move).toContain('--steps');
		expect(result.turn).toBeNull();
		expect(result.point).not.toBeNull();
	});

	it('palm up for palm down, and the other hand: a mirror is told, no rotation is given', () => {
		const {result} = solveText(lines.join('\n'), {hand: 'left'});
		expect(result.verdict).toBe('fail');
		expect(result.turn).toBeNull();
		expect(result.problems[0]).toMatch(
			/left hand in a mirror.*--hand right.*--space left-handed.*palm down where it was up/,
		);
	});

	it('one of two poses of a name the other way up: how far apart they are', () => {
		const second = trial.steps.filter(({name}) => name === 'palm-down')[1];
		const over = Quaternion.fromAxisAngle([0, 0, 1], Math.PI);
		const text = trialText({
			...trial,
			rows: trial.rows.map(row =>
				row.t >= second.from - 0.01 && row.t <= second.to
					? {...row, turn: row.turn.mul(trial.turn.mul(over).mul(trial.turn.conjugate()))}
					: row,
			),
		});
		const {result} = solveText(text, {steps: trial.steps, up: 'y'});
		expect(result.problems[0]).toMatch(/two poses palm down are 1[67]\d° apart/);
	});

	it('no poses: what a row takes', async () => {
		await expect(runMount({poses: write('glove.txt', '512,498,505,300,700\n'.repeat(50))})).rejects.toThrow(
			/is no log of poses: .*such as t,x,y,z,qw,qx,qy,qz/,
		);
		await expect(runMount({poses: write('empty.csv', '')})).rejects.toThrow(/is empty/);
		await expect(runMount({poses: at('gone.csv')})).rejects.toThrow(/is not there/);
		await expect(runMount({poses: '/dev/ttyUSB9'})).rejects.toThrow(/not from the port/);
	});

	it('a form that cannot be told asks for its option', () => {
		const still = trialText(drawTrial({seed: 5, swing: [3, 3, 3], wanderMm: 8, ...slow}), 'xyzw', false);
		const pivot = drawTrial({seed: 5, swing: [3, 3, 3], wanderMm: 8, ...slow}).steps.filter(
			({name}) => name === 'pivot',
		);
		expect(() => solveText(still, {steps: pivot})).toThrow(
			/--quaternion (?:wxyz|xyzw) or --quaternion (?:wxyz|xyzw)|--direction/,
		);
	});

	it('wrong options', async () => {
		const poses = write('good.csv', lines.join('\n'));
		await expect(runMount({poses, steps: 'palmdown 0-2'})).rejects.toThrow(
			/a step is one of palm-down.*perhaps palm-down/,
		);
		await expect(runMount({poses, origin: '1,2'})).rejects.toThrow(/three numbers in mm/);
		await expect(runMount({poses, verify: at('no.json')})).rejects.toThrow(/no file has that name/);
	});
});

/** The two that differ most, so that the swap can be seen. */
function swapped(place: Vec): Vec {
	const [a, b] = [
		[0, 1],
		[0, 2],
		[1, 2],
	].sort((p, q) => Math.abs(place[q[0]] - place[q[1]]) - Math.abs(place[p[0]] - place[p[1]]))[0];
	const moved: Vec = [...place];
	moved[a] = place[b];
	moved[b] = place[a];
	return moved;
}

describe('--verify', () => {
	it.each([
		[
			'the other direction',
			(turn: Quaternion, place: Vec) => ({
				turn: turn.conjugate(),
				place: (turn.conjugate().rotateVector(place) as Vec).map(value => -value) as Vec,
			}),
			/other direction was typed in/,
		],
		[
			'a sign of the position',
			(turn: Quaternion, place: Vec) => ({turn, place: [-place[0], place[1], place[2]] as Vec}),
			/sign of the position's x/,
		],
		[
			'a sign of the rotation',
			(turn: Quaternion, place: Vec) => ({turn: new Quaternion(turn.w, turn.x, -turn.y, turn.z), place}),
			/sign of the quaternion's y/,
		],
		[
			'xyzw for wxyz',
			(turn: Quaternion, place: Vec) => ({turn: new Quaternion(turn.x, turn.y, turn.z, turn.w), place}),
			/order xyzw for wxyz|order wxyz/,
		],
		[
			'two numbers of the position swapped',
			(turn: Quaternion, place: Vec) => ({turn, place: swapped(place)}),
			/position was taken in the order (?:xzy|yxz|zyx)/,
		],
	])('names the slip: %s', async (_, change, words) => {
		const {status, text} = await verifyWith(folder, change);
		const {verify} = JSON.parse(text);
		expect(status).toBe(1);
		expect(verify.slip?.what).toMatch(words);
		expect(verify.slip.timesBetter).toBeGreaterThanOrEqual(5);
	});

	it('names no slip for a tracker that has moved on its strap', async () => {
		const {text} = await verifyWith(folder, (turn, place) => ({
			turn: turn.mul(Quaternion.fromAxisAngle([1, 2, -1], 0.4)),
			place: [place[0] + 14, place[1] + 9, place[2] - 11],
		}));
		expect(JSON.parse(text).verify).toMatchObject({isZero: false, slip: null});
	});
});

describe('around it', () => {
	const simulate = (options: SimulateOptions) => runCaptured(simulateCommand, options);

	it('the worked example of docs/mount.md is what the program prints today, and its truth that of its log', async () => {
		const docs = readFileSync('docs/mount.md', 'utf8');
		const [, command] = /written by `glovebench (simulate --poses [^`]*)`/.exec(docs)!;
		expect(command).toBe("simulate --poses fox-poses.csv --seed 8 --tracker 'rate=30'");
		const poses = at('fox-poses.csv');
		await simulate({poses, tracker: 'rate=30', seed: 8, force: true});
		const log = readFileSync(poses, 'utf8');
		expect(log).toBe(readFileSync('docs/examples/fox-poses.csv', 'utf8'));
		const truth = JSON.parse(/^# truth (.*)$/m.exec(log)![1]).trackerToHand;
		const said = /position \((.*)\) mm, quaternion (.*)\.\n/
			.exec(docs)!
			.slice(1)
			.map(text => text.replaceAll('−', '-').split(', ').map(Number));
		for (const [k, value] of truth.positionMm.entries()) expect(value).toBeCloseTo(said[0][k], 1);
		const {w, x, y, z} = truth.quaternion;
		for (const [k, value] of [w, x, y, z].entries()) expect(value).toBeCloseTo(said[1][k], 3);
		const [, printed] = /\$ glovebench mount fox-poses\.csv\n([\s\S]*?)```/.exec(docs)!;
		const {text} = await runMount({poses});
		// A longer path breaks its line elsewhere.
		const inARow = (words: string) => words.replaceAll(/\s+/g, ' ');
		expect(inARow(text.replaceAll(poses, 'fox-poses.csv'))).toBe(inARow(printed));
	});

	it('simulate --poses writes the truth in its head, and mount finds it', async () => {
		for (const [tracker, more] of [
			['rate=30, order=xyzw, up=-z, unit=mm', {}],
			['rate=30, hand=left, jumps=2, pivot=18', {hand: 'left'}],
		] as const) {
			const poses = at('simulated.csv');
			await simulate({poses, tracker, seed: 4, force: true});
			const text = readFileSync(poses, 'utf8');
			const truth = JSON.parse(/^# truth (.*)$/m.exec(text)![1]);
			const {result} = solveText(text, more);
			for (const [k, value] of truth.trackerToHand.positionMm.entries())
				expect(Math.abs(result.point![k] - value)).toBeLessThan(6);
			const q = truth.trackerToHand.quaternion;
			const off = new Quaternion(q.w, q.x, q.y, q.z).conjugate().mul(new Quaternion(...result.turn!));
			expect(2 * Math.acos(Math.min(1, Math.abs(off.w)))).toBeLessThan(0.12);
		}
	});

	it('a second thing in the same log gives the offset between the two', async () => {
		const poses = at('pair.csv');
		await simulate({poses, tracker: 'rate=30, devices=2', seed: 4, force: true});
		const {status, text} = await runMount({poses, device: 'tracker', second: 'controller', json: true});
		const truth = JSON.parse(/^# truth (.*)$/m.exec(readFileSync(poses, 'utf8'))![1]);
		const json = JSON.parse(text);
		expect(status).toBe(0);
		expect(json.road).toBe('second');
		for (const [k, value] of truth.trackerToHand.positionMm.entries())
			expect(json.trackerToHand.positionMm[k]).toBeCloseTo(value, 0);
	});

	it('what is printed to paste is a sheet that sheet check takes, and --verify reads', async () => {
		const {text} = await runMount({poses: write('good.csv', lines.join('\n'))});
		const table = /To paste into the sheet\n((?: {2}.*\n)+)/.exec(text)![1].replaceAll(/^ {2}/gm, '');
		const file = write('glove.toml', table);
		expect((await runCaptured(sheetCommand, {action: 'check', file})).status).toBe(0);
		const wrong = write('wrong.toml', table.replace(/origin_from_pivot_mm = .*/, 'origin_from_pivot_mm = [1, 2]'));
		const refused = await runCaptured(sheetCommand, {action: 'check', file: wrong});
		expect(refused.status).toBe(1);
		expect(refused.text).toContain('origin_from_pivot_mm must not be a list: it takes 3 numbers from -1000 to 1000');
		expect((await runMount({poses: write('good.csv', lines.join('\n')), verify: file})).text).toMatch(
			/Left of the offset/,
		);
	});

	it('in a left-handed space all comes out as in the mirror', () => {
		// z of the space, of the tracker and of the hand the other way round: S R S with S = diag(1, 1, −1).
		const header = lines[0];
		const mirrored = rowsOf().map(([t, x, y, z, w, i, j, k]) =>
			[t, x, y, -Number(z), w, -Number(i), -Number(j), k].join(','),
		);
		const {result} = solveText([header, ...mirrored].join('\n'), {handedness: 'left-handed'});
		const {result: right} = solveText(lines.join('\n'));
		expect(result.verdict).toBe(right.verdict);
		const [x, y, z] = right.point!;
		for (const [axis, value] of [x, y, -z].entries()) expect(result.point![axis]).toBeCloseTo(value, 6);
		const [w, i, j, k] = right.turn!;
		const sign = Math.sign(w * result.turn![0]);
		for (const [n, value] of [w, -i, -j, k].entries()) expect(sign * result.turn![n]).toBeCloseTo(value, 6);
		expect(result.steps).toEqual(right.steps);
	});

	it('finds which pose is missing of six; where it is the first or the last, five look alike when all is turned by 120°', () => {
		const without = (index: number) => {
			const {from, to} = trial.steps[index];
			const kept = rowsOf().filter(([t]) => Number(t) < from - 0.2 || Number(t) > to + 0.2);
			return solveText([lines[0], ...kept.map(row => row.join(','))].join('\n')).result;
		};
		for (const index of [1, 2, 3, 4]) {
			const result = without(index);
			expect(result.steps.map(({name}) => name)).toEqual(
				trial.steps.filter((_, i) => i !== index).map(({name}) => name),
			);
			expect(errorsOf(trial, result.turn, result.point).degrees).toBeLessThan(6);
		}

		for (const index of [0, 5]) {
			const result = without(index);
			expect(result.turn).toBeNull();
			expect(result.point).not.toBeNull();
			expect(result.missing.map(({move}) => move).join()).toContain('--steps');
		}
	});

	it('the ruler vector moves the hand’s origin along the hand’s axes', () => {
		const {result} = solveText(lines.join('\n'), {originFromPivot: [0, -10, 95]});
		const moved = trial.turn.rotateVector([0, -10, 95]) as Vec;
		for (const k of [0, 1, 2]) expect(Math.abs(result.place![k] - trial.point[k] - moved[k])).toBeLessThan(14);
	});

	it('report makes a page of its JSON', async () => {
		const {text} = await runMount({poses: write('good.csv', lines.join('\n')), json: true});
		const output = at('mount.html');
		const report = await runCaptured(reportCommand, {recording: write('mount.json', text), output});
		expect(report.status).toBe(0);
		const page = readFileSync(output, 'utf8');
		expect(page).toContain('Tracker to hand');
		expect(page).toContain('numbness');
		expect(report.text).toMatch(/^PASS: rotation and position are known/);
	});
});
