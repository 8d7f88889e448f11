import {describe, expect, it} from 'vitest';
import {acceptReel, acceptStick} from '../../source/bringup/acceptance.ts';
import type {ReelFigures} from '../../source/bringup/reel-figures.ts';
import type {StickFigures} from '../../source/bringup/stick-figures.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {bringUpSample} from '../gloves/sample-script.ts';
import {changedSimulation, runItems} from './sample-run.ts';

const sound: ReelFigures = {
	name: 'index',
	column: 1,
	isKnown: true,
	travelPercent: 65,
	returnErrorPercent: 0.5,
	roughnessPercent: 0.3,
	dropouts: 0,
	noisePercent: 0.05,
	low: 100,
	high: 760,
	direction: 1,
	curve: null,
	from: 'reel',
};

describe('acceptance of a reel', () => {
	it('passes a sound one, and names each figure that is out of its limit', () => {
		expect(acceptReel(sound, 'index', undefined)).toEqual({name: 'index', verdict: 'pass', reasons: []});
		const bad = {
			...sound,
			travelPercent: 30,
			returnErrorPercent: 4,
			roughnessPercent: 3.5,
			dropouts: 2,
			noisePercent: 1,
		};
		expect(acceptReel(bad, 'ring', undefined)).toEqual({
			name: 'index',
			verdict: 'fail',
			reasons: [
				'answers on the channel called ring',
				'travel 30 %, at least 50 %',
				'return error 4 %, at most 3 %',
				'roughness 3.5 %, at most 2 %',
				'dropouts 2, at most 0',
				'noise 1 %, at most 0.6 %',
			],
		});
	});

	it("keeps the sheet's limits instead of the usual ones", () => {
		const sheet = {channels: [], limits: {minTravelPercent: 70, maxNoisePercent: 0.01}};
		expect(acceptReel(sound, 'index', sheet).reasons).toEqual([
			'travel 65 %, at least 70 %',
			'noise 0.05 %, at most 0.01 %',
		]);
	});

	it('asks half the travel of a thumb, unless the sheet says otherwise', () => {
		const thumb = {...sound, name: 'thumb', travelPercent: 30};
		expect(acceptReel(thumb, 'thumb', undefined).verdict).toBe('pass');
		expect(acceptReel(thumb, 'thumb', {channels: [], limits: {minTravelPercent: 50}}).verdict).toBe('fail');
	});

	it('leaves one open that nothing answered for', () => {
		expect(acceptReel({...sound, travelPercent: null}, 'index', undefined).verdict).toBe('open');
		expect(acceptReel({...sound, isKnown: false}, 'index', undefined)).toEqual({
			name: 'index',
			verdict: 'open',
			reasons: ['moved with the hand, never by itself'],
		});
	});
});

describe('acceptance of a stick', () => {
	const axis = {
		name: 'stick-x',
		column: 5,
		ownColumn: 5,
		isKnown: true,
		confidence: 1,
		direction: 1,
		centre: 512,
		low: 20,
		high: 1000,
	} as const;
	const stick: StickFigures = {
		x: axis,
		y: axis,
		offCentrePercent: 2,
		scatterPercent: 0.3,
		reachPercent: 90,
		sides: ['right', 'down', 'left', 'up'],
	};

	// Where the definitions of stick-off-centre, stick-no-return and stick-short-throw say "must".
	it.each([
		[{offCentrePercent: 12}, 'rests 12 % off the middle'],
		[{scatterPercent: 6}, 'returns within 6 %'],
		[{reachPercent: 60}, 'reaches 60 % of half scale'],
	])('fails at %o', (changes, reason) => {
		const {verdict, reasons} = acceptStick({...stick, ...changes});
		expect(verdict).toBe('fail');
		expect(reasons[0]).toContain(reason);
	});

	it('passes short of them, and leaves it open while a side is missing', () => {
		expect(acceptStick({...stick, offCentrePercent: 11, scatterPercent: 5, reachPercent: 65}).verdict).toBe('pass');
		expect(acceptStick({...stick, sides: ['right', 'down']}).verdict).toBe('open');
	});
});

// The simulator's causes, seen through the whole routine.
describe('a routine with a poor reel', () => {
	it('fails one with a loose contact by its dropouts', async () => {
		const {items} = changedSimulation(4, {faults: [{code: 'dropout', channel: 'middle', severity: 0.8}]});
		const {result} = await runItems(items);
		expect(result.acceptance.find(({name}) => name === 'middle')).toMatchObject({
			verdict: 'fail',
			reasons: expect.arrayContaining([expect.stringMatching(/^dropouts \d+, at most 0$/)]),
		});
		expect(result.acceptance.filter(({verdict}) => verdict !== 'pass').map(({name}) => name)).toEqual(['middle']);
	});

	it('fails one with a noisy track by its noise', async () => {
		const {items} = changedSimulation(4, {faults: [{code: 'excess-noise', channel: 'ring', severity: 0.6}]});
		const {result} = await runItems(items);
		expect(result.acceptance.find(({name}) => name === 'ring')!.reasons.join()).toMatch(
			/noise [\d.]+ %, at most 0.6 %/,
		);
	});

	it('fails one with a spool that is far too large by its travel', async () => {
		const spec = bringUpSample(4);
		const fingers = spec.glove.fingers.map(finger =>
			finger.name === 'index' ? {...finger, spoolDiameterMm: 3 * finger.spoolDiameterMm} : finger,
		);
		const {result} = await runItems(simulate({...spec, glove: {...spec.glove, fingers}}).items);
		const index = result.reels.find(({name}) => name === 'index')!;
		expect(result.acceptance.find(({name}) => name === 'index')!.reasons[0]).toMatch(/^travel 2\d %, at least 50 %$/);
		// A third of what it would be: the cord travel is the same.
		const sound = await runItems(simulate(spec).items);
		expect(index.travelPercent! / sound.result.reels.find(({name}) => name === 'index')!.travelPercent!).toBeCloseTo(
			1 / 3,
			1,
		);
	});

	it('fails one that does not come back by its return error', async () => {
		const spec = bringUpSample(4);
		const fingers = spec.glove.fingers.map(finger =>
			finger.name === 'little' ? {...finger, returnScatter: 0.2} : finger,
		);
		const {result} = await runItems(simulate({...spec, glove: {...spec.glove, fingers}}).items);
		expect(result.acceptance.find(({name}) => name === 'little')!.reasons.join()).toMatch(
			/return error [\d.]+ %, at most 3 %/,
		);
	});
});
