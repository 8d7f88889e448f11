import stringWidth from 'string-width';
import {beforeAll, describe, expect, it} from 'vitest';
import {compareJson} from '../../source/compare/compare-json.ts';
import {compareMarkdown} from '../../source/compare/compare-markdown.ts';
import {compareText} from '../../source/compare/compare-text.ts';
import {type Comparison, compareRuns} from '../../source/compare/comparison.ts';
import type {GatheredRun} from '../../source/fit/gather-source.ts';
import {expectToKeepTo} from '../report/published-schema.ts';
import {session, theatreGlove} from './sample-comparison.ts';

let sound: GatheredRun;
let floating: GatheredRun;
let repair: Comparison;

beforeAll(async () => {
	sound = await session();
	floating = await session({faults: [{code: 'floating-input', channel: 'ring', severity: 0.8}]});
	repair = compareRuns(floating, sound);
});

describe('compare', () => {
	it('says that a mended channel is better', () => {
		expect(repair.verdict.word).toBe('better');
		expect(repair.verdict.sentence).toMatch(/^"wiper wire open" on ring is gone and nothing new was found/);
		expect(repair.findings.gone.map(({code, channel}) => [code, channel])).toEqual([['floating-input', 'ring']]);
	});

	it('says that a broken channel is worse', () => {
		const {verdict, findings} = compareRuns(sound, floating);
		expect(verdict).toEqual({word: 'worse', sentence: '"wiper wire open" on ring is new in B.'});
		expect(findings.appeared).toHaveLength(1);
	});

	it('says that a fault in both is still there', () => {
		const {verdict, findings} = compareRuns(floating, floating);
		expect(verdict.word).toBe('same');
		expect(findings.remaining.map(({code}) => code)).toEqual(['floating-input']);
	});

	it('finds two sessions of a sound glove alike', () => {
		const {verdict, changes} = compareRuns(sound, sound);
		expect(changes).toEqual([]);
		expect(verdict).toEqual({word: 'same', sentence: 'Nothing is wrong in either, and they are alike.'});
	});

	it('does not call a fault gone on a hand that never moved', async () => {
		const still = await session({words: 'rest 60s'});
		const {verdict, findings} = compareRuns(floating, still);
		expect(findings.gone).toEqual([]);
		expect(findings.untested.map(({code}) => code)).toEqual(['floating-input']);
		expect(verdict.word).toBe('unknown');
		expect(verdict.sentence).toContain('move ring there and back');
	});

	it('tells a reversed reel, a smaller span, more noise and another rate', async () => {
		const glove = theatreGlove();
		const fingers = glove.fingers.map(finger =>
			finger.name === 'middle'
				? {
						...finger,
						direction: -finger.direction as 1 | -1,
						openAngleDegrees: finger.electricalAngleDegrees - finger.openAngleDegrees,
					}
				: finger.name === 'little'
					? {...finger, cordTravelMm: 0.6 * finger.cordTravelMm}
					: finger,
		);
		const board = {...glove.board, noiseRmsCounts: 30 * glove.board.noiseRmsCounts};
		const other = await session({glove: {...glove, board, fingers}, rate: 60});
		const {changes} = compareRuns(sound, other);
		expect(changes[0]).toBe('middle goes against the other fingers in B, with them in A.');
		expect(changes.join('\n')).toMatch(/little's span shrank from [\d.]+ to [\d.]+ % FS\./);
		expect(changes.join('\n')).toMatch(/index's noise rose from [\d.]+ to [\d.]+ % FS\./);
		expect(changes.join('\n')).toMatch(/The rate fell from [\d.]+ to 60 frames\/s\./);
	});

	it('puts every figure of both sides into the text, within 80 columns', () => {
		const text = compareText(repair);
		expect(text).toMatch(/^BETTER: "wiper wire open" on ring is gone/);
		expect(text).toMatch(/^gone +floating-input on ring \(failure\): /m);
		for (const {name, b} of repair.channels.filter(({a}) => a?.role === 'finger')) {
			expect(text).toMatch(new RegExp(`^${name} .*${b!.spanPercentFs!.toFixed(1)}`, 'm'));
		}

		for (const line of text.split('\n')) expect(stringWidth(line), line).toBeLessThanOrEqual(80);
	});

	it('makes Markdown tables of as many cells in every row', () => {
		const rows = compareMarkdown(repair)
			.split('\n')
			.filter(line => line.startsWith('|'));
		expect(rows.length).toBeGreaterThan(12);
		const cells = (line: string) => line.split('|').length;
		const channels = rows.slice(
			0,
			rows.findIndex(line => line.startsWith('| link')),
		);
		expect(new Set(channels.map(cells))).toEqual(new Set([11]));
	});

	it('keeps names from the stream out of the markup', () => {
		const text = compareMarkdown({...repair, a: {...repair.a, name: '/home/x/`a`|b.gbrec'}});
		expect(text).toContain("- A: `'a'|b.gbrec`");
	});

	it('prints JSON that keeps to its schema', () => {
		const json = JSON.parse(JSON.stringify(compareJson(repair)));
		expectToKeepTo('compare', json);
		expect(json).toMatchObject({schema: 2, kind: 'compare'});
		expect(json.channels.find(({name}: {name: string}) => name === 'ring').b.spanPercentFs).toBeGreaterThan(40);
		expect(json.verdict.word).toBe('better');
	});
});
