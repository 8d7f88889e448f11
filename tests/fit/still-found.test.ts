import {describe, expect, it} from 'vitest';
import {fitSettings} from '../../source/fit/fit.ts';
import {fitJson} from '../../source/fit/fit-json.ts';
import type {FitResult} from '../../source/fit/fit-result.ts';
import {fitText} from '../../source/fit/fit-text.ts';
import {gatherItems, itemsOf} from './simulated.ts';

const found: FitResult['findings'] = [
	{code: 'narrow-span', channel: 'ring', evidence: {}},
	{code: 'lost-frames', channel: null, evidence: {}},
];

/** One finger that bends six times; what is found in it is put in by hand. */
function fitted(): FitResult {
	const rows = Array.from({length: 1500}, (_, i) => {
		const bent = i < 200 ? 0 : Math.max(0, Math.sin((2 * Math.PI * (i - 200)) / 200));
		return [500, 100 + Math.round(600 * bent), 200, 300, 400].map(level => level + (i % 2));
	});
	const {session, gathered} = gatherItems(itemsOf(rows, 100), {
		fullScale: 1023,
		layout: 'thumb,index,middle,ring,little',
	});
	const result = fitSettings(session, gathered);
	const fingers = result.fingers.map(finger => ({...finger, notes: [{kind: 'jumps', count: 2} as const]}));
	return {...result, fingers, findings: found};
}

describe('what is still found where settings are given', () => {
	it('is said in words in the text', () => {
		const text = fitText(fitted(), 'a glove', 200);
		expect(text).toContain(
			'Still found: "too little travel" on ring, "frame counter skips". Mend them, then fit again.',
		);
		expect(text).toContain('Note: index: 2 short jumps were left out.');
	});

	it('is named by code and channel in JSON, and notes are sentences there', () => {
		expect(fitJson(fitted(), {kind: 'log', name: 'a glove'})).toMatchObject({
			findings: ['narrow-span on ring', 'lost-frames'],
			fingers: [{name: 'index', notes: ['2 short jumps were left out.']}],
		});
	});
});
