import {describe, expect, it} from 'vitest';
import {fitSettings} from '../../source/fit/fit.ts';
import type {FingerSettings} from '../../source/fit/fit-result.ts';
import {followers} from '../../source/fit/followers.ts';
import {gatherItems, itemsOf} from './simulated.ts';

const finger = (name: string, spanPercentFs: number) => ({name, spanPercentFs}) as FingerSettings;
const names = (spans: Record<string, number>) =>
	followers(Object.entries(spans).map(([name, span]) => finger(name, span))).map(each => each.name);

describe('fingers that only followed', () => {
	it('are told where one finger moved alone', () => {
		expect(names({index: 35, middle: 12})).toEqual(['middle']);
		expect(names({ring: 60, middle: 18, little: 26, thumb: 5})).toEqual(['middle', 'little', 'thumb']);
	});

	it('are none where the hand was closed, however narrow a reel is', () => {
		expect(names({thumb: 30, index: 60, middle: 62, ring: 14, little: 58})).toEqual([]);
	});

	it('are none where a thumb has half the travel of the only other finger', () => {
		expect(names({thumb: 20, index: 42})).toEqual([]);
		expect(names({})).toEqual([]);
	});

	it('get no settings: a range of following is no range', () => {
		// The index bends six times; the middle finger goes a fifth of its way along with it.
		const rows = Array.from({length: 1500}, (_, i) => {
			const bent = i < 200 ? 0 : Math.max(0, Math.sin((2 * Math.PI * (i - 200)) / 200));
			return [500, 100 + Math.round(600 * bent), 200 + Math.round(120 * bent), 300, 400].map(level => level + (i % 2));
		});
		const {session, gathered} = gatherItems(itemsOf(rows, 100), {
			fullScale: 1023,
			layout: 'thumb,index,middle,ring,little',
		});
		const {fingers, refused} = fitSettings(session, gathered);
		expect(fingers.map(({name}) => name)).toEqual(['index']);
		expect(refused.find(({name}) => name === 'middle')!.reason).toMatch(
			/^It has travelled 1\d % FS beside index's \d+ %, as a neighbour that only follows does: /,
		);
	});
});
