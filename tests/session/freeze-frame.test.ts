import {expect, test} from 'vitest';
import {freeze} from '../../source/session/freeze-frame.ts';
import {held} from '../gloves/draw.ts';
import {featuresOver} from '../gloves/features-over.ts';

/** Each frame's reading of the thumb is its own number. */
const numbered = (seconds: number, rate: number) =>
	featuresOver({
		channels: {
			thumb: t => (100 * Math.round(t * rate)) / 65_535,
			index: held(50),
			'stick-x': held(40),
			'stick-y': held(60),
		},
		seconds,
		rate,
		fullScale: 65_535,
		noise: 0,
	});

test.each<[string, number, number, number, {first: number; count: number; step: number}]>([
	['the second around a moment', 20, 100, 10, {first: 950, count: 100, step: 1}],
	[
		'the first second, where the moment is half a second after the start or sooner',
		20,
		100,
		0.5,
		{first: 0, count: 100, step: 1},
	],
	['what there is of it, at the start', 20, 100, 0.2, {first: 0, count: 70, step: 1}],
	['what there is of it, at the end', 20, 100, 19.8, {first: 1930, count: 70, step: 1}],
	['every fifth reading at a thousand a second', 10, 1000, 5, {first: 4500, count: 200, step: 5}],
	['the newest second, where that moment is no longer held', 20, 1000, 3, {first: 19_000, count: 200, step: 5}],
])('a freeze frame holds %s', (_title, seconds, rate, at, {first, count, step}) => {
	const {times, series} = freeze(numbered(seconds, rate), 'thumb', at);
	expect(series.map(({name}) => name)).toEqual(['thumb']);
	expect(series[0].values).toEqual(Array.from({length: count}, (_, i) => first + step * i));
	expect(times).toEqual(series[0].values.map(frame => frame / rate));
});

test('without a channel it holds all fingers and stick axes', () => {
	expect(freeze(numbered(3, 50), null, 2).series.map(({name}) => name)).toEqual([
		'thumb',
		'index',
		'stick-x',
		'stick-y',
	]);
});
