import {describe, expect, it} from 'vitest';
import {type Pull, PullTracker} from '../../source/bringup/pull-tracker.ts';
import {minimumJerk} from '../../source/simulator/axis.ts';

/** Readings at 100 frames/s: stays and movements of half a second, full scale 1000. */
class Hand {
	readonly readings: number[] = [];
	private level: number;

	constructor(level: number) {
		this.level = level;
		this.stay(0.5);
	}

	stay(seconds: number): this {
		for (let i = 0; i < 100 * seconds; i++) this.readings.push(this.level);
		return this;
	}

	to(level: number): this {
		for (let i = 1; i <= 50; i++) this.readings.push(this.level + (level - this.level) * minimumJerk(i / 50));
		this.level = level;
		return this;
	}
}

function pullsOf(readings: readonly number[]): Pull[] {
	const tracker = new PullTracker(3, 60, 10);
	return readings.flatMap((reading, i) => tracker.push(i / 100, reading, 1000) ?? []);
}

describe('PullTracker', () => {
	it('gives every pull with its way, its sign and where it came to rest', () => {
		const hand = new Hand(200).to(800).to(230).stay(0.5).to(150).stay(0.3).to(225).stay(0.5);
		const pulls = pullsOf(hand.readings);
		expect(pulls.map(({column, excursion}) => [column, Math.round(excursion)])).toEqual([
			[3, 600],
			[3, -80],
		]);
		expect(pulls[0]).toMatchObject({dropouts: 0, wobble: 0});
		expect(pulls[0].before).toBeCloseTo(200, 0);
		expect(pulls[0].after).toBeCloseTo(230, 0);
	});

	it('tells pulls apart that follow each other without a stop', () => {
		const pulls = pullsOf(new Hand(200).to(800).to(210).to(790).to(220).to(780).to(200).stay(0.5).readings);
		expect(pulls.map(({excursion}) => Math.round(excursion / 10))).toEqual([60, 58, 56]);
	});

	it('ends a push at the middle where it goes straight on to the other side', () => {
		const pulls = pullsOf(new Hand(500).to(900).to(100).to(500).stay(0.5).readings);
		expect(pulls.map(({excursion}) => Math.round(excursion))).toEqual([400, -400]);
	});

	it('leaves a dropout out of the way and counts it', () => {
		const {readings} = new Hand(200).to(800).stay(0.2).to(200).stay(0.5);
		readings.splice(110, 3, 0, 0, 0);
		readings.splice(120, 2, 1000, 1000);
		const pulls = pullsOf(readings);
		expect(pulls).toHaveLength(1);
		expect(pulls[0].dropouts).toBe(2);
		expect(pulls[0].excursion).toBeCloseTo(600, 0);
	});

	it('measures a quick step back on the way as roughness', () => {
		const {readings} = new Hand(200).to(800).to(200).stay(0.5);
		// Half way out the cord slips back by 40 counts for three frames, then catches up.
		for (let i = 76; i < 79; i++) readings[i] = readings[75] - 40;
		const [pull] = pullsOf(readings);
		expect(pull.wobble).toBeCloseTo(40, 0);
	});

	it('does not call a hand that hesitates rough', () => {
		const hand = new Hand(200).to(500).to(440).stay(0.2).to(800).to(200).stay(0.5);
		const [pull] = pullsOf(hand.readings);
		expect(pull.excursion).toBeCloseTo(600, 0);
		expect(pull.wobble).toBe(0);
	});

	it('takes a level that is kept for seconds as the new rest: the glove was put on', () => {
		const pulls = pullsOf(new Hand(200).to(300).stay(5).to(800).to(310).stay(0.5).readings);
		expect(pulls).toHaveLength(1);
		expect(pulls[0].before).toBeCloseTo(300, 0);
		expect(pulls[0].excursion).toBeCloseTo(500, 0);
	});

	it('does not rest on the level of a neighbour that is held', () => {
		const tracker = new PullTracker(0, 60, 10);
		const {readings} = new Hand(200).to(250).stay(0.5);
		readings.forEach((reading, i) => {
			tracker.push(i / 100, reading, 1000, i < 50);
		});
		expect(tracker.rest).toBe(200);
	});
});
