import {describe, expect, it} from 'vitest';
import {PoseReader} from '../../source/mount/raw-poses.ts';
import {testFolder} from '../gloves/test-folder.ts';
import {verifyWith} from './mount-bench.ts';
import {solveText} from './read-trial.ts';
import {drawTrial, trialText} from './trial.ts';

const folder = testFolder();

describe('--verify', () => {
	it('finds nothing left where it was typed in right', async () => {
		const {status, text} = await verifyWith(folder, (turn, place) => ({turn, place}));
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
