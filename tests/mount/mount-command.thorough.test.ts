import type Quaternion from 'quaternion';
import {describe, expect, it} from 'vitest';
import {PoseReader} from '../../source/mount/raw-poses.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {lines, runMount, trial} from './mount-bench.ts';
import {solveText} from './read-trial.ts';
import {drawTrial, trialText, type Vec} from './trial.ts';

const {write} = testFolder();

describe('--verify', () => {
	/** A log of the hand as a host shows it that applies `shown` for the true offset of the trial. */
	async function verifyWith(change: (turn: Quaternion, place: Vec) => {turn: Quaternion; place: Vec}) {
		const own = {turn: trial.turn, place: trial.point};
		const shown = change(own.turn, own.place);
		const rows = trial.rows.map(({t, turn, place}) => {
			const moved = turn.rotateVector(shown.place) as Vec;
			return {t, turn: turn.mul(shown.turn), place: place.map((value, k) => value + moved[k]) as Vec};
		});
		const {turn, place} = own;
		const json = JSON.parse((await runMount({poses: write('first.csv', lines.join('\n')), json: true})).text);
		json.trackerToHand = {positionMm: place, quaternion: {w: turn.w, x: turn.x, y: turn.y, z: turn.z}};
		const verify = write('first.json', JSON.stringify(json));
		return runMount({poses: write('after.csv', trialText({...trial, rows})), verify, json: true});
	}

	it('finds nothing left where it was typed in right', async () => {
		const {status, text} = await verifyWith((turn, place) => ({turn, place}));
		expect(JSON.parse(text).verify).toMatchObject({isZero: true, slip: null});
		expect(status).toBe(0);
	});
});

it('ten minutes at 90 a second are read in less than a second, and solved', () => {
	const text = trialText(drawTrial({seed: 5, rate: 90, pivotSeconds: 577}));
	const seconds = (start: NodeJS.CpuUsage) => process.cpuUsage(start).user / 1e6;
	const start = process.cpuUsage();
	const reader = new PoseReader();
	reader.push(text);
	reader.end();
	expect(reader.read!.columns.place).toBeDefined();
	// Processor time: about 0.25 s to read, 0.5 s with all that is solved, when this was written.
	expect(seconds(start)).toBeLessThan(1);
	expect(solveText(text).result.verdict).toBe('pass');
	expect(seconds(start)).toBeLessThan(3);
});
