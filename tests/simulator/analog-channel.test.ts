import {describe, expect, test} from 'vitest';
import {AnalogChannel, Play} from '../../source/simulator/analog-channel.ts';
import type {FingerSpec, GloveSpec} from '../../source/simulator/glove.ts';
import {travelShare} from '../../source/simulator/glove.ts';
import {benchSpec} from './bench.ts';

function channelWith(changes: Partial<FingerSpec>): AnalogChannel {
	const {glove} = benchSpec([]);
	const plain = {curve: 1, playShare: 0, endResistance: 0, loadRatio: 0, openAngleDegrees: 0, direction: 1} as const;
	const spec: GloveSpec = {...glove, fingers: glove.fingers.map(finger => ({...finger, ...plain, ...changes}))};
	return new AnalogChannel(spec, 'index');
}

describe('a reel', () => {
	test('turns as far as its cord and spool say', () => {
		// A spool of 16 mm winds 37.6991 mm in 270°; 42.045 mm of cord need 301.125° (check-values H1, H3).
		const finger = {...benchSpec([]).glove.fingers[1], spoolDiameterMm: 16, electricalAngleDegrees: 270};
		expect(travelShare({...finger, cordTravelMm: 37.6991})).toBeCloseTo(1, 5);
		expect(travelShare({...finger, cordTravelMm: 42.045}) * 270).toBeCloseTo(301.125, 1);
	});

	test('runs into the end of its track where the cord is longer than the track', () => {
		const channel = channelWith({spoolDiameterMm: 16, electricalAngleDegrees: 270, cordTravelMm: 42.045});
		expect(channel.ideal(0.5)).toBeCloseTo((0.5 * 301.125) / 270, 3);
		expect(channel.ideal(1)).toBe(1);
	});

	test('reads full scale less the reading when mounted the other way round', () => {
		const rising = channelWith({spoolDiameterMm: 30});
		const falling = channelWith({
			spoolDiameterMm: 30,
			direction: -1,
			openAngleDegrees: 270,
			electricalAngleDegrees: 270,
		});
		const same = channelWith({spoolDiameterMm: 30, electricalAngleDegrees: 270});
		expect(falling.ideal(0.6)).toBeCloseTo(1 - same.ideal(0.6), 10);
		expect(rising.ideal(0.6)).toBeGreaterThan(rising.ideal(0.5));
	});

	test('sags in the middle when its wiper is loaded', () => {
		// x/(1 + a·x(1 − x)) with a = 0.1 at x = ½: 0.4878049 (check-values P7).
		const half = {spoolDiameterMm: 30, electricalAngleDegrees: 270, openAngleDegrees: 135};
		expect(channelWith({...half, loadRatio: 0.1}).ideal(0)).toBeCloseTo(0.4878049, 6);
		expect(channelWith(half).ideal(0)).toBeCloseTo(0.5, 12);
	});
});

describe('Play', () => {
	test('follows only after its width is taken up, both ways', () => {
		// Width 2: the first position is kept until the input is one away from it.
		const play = new Play(2);
		const path = [0, 0.5, 1, 2, 5, 4.5, 4, 3, 2, 3, 4, 5].map(input => play.follow(input));
		expect(path).toEqual([0, 0, 0, 1, 4, 4, 4, 4, 3, 3, 3, 4]);
	});
});
