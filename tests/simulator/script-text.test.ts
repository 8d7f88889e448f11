import {describe, expect, test} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {parseScript, scriptHelp} from '../../source/simulator/script-text.ts';

describe('parseScript', () => {
	test('reads steps, times, counts and what is done at once', () => {
		expect(parseScript('rest 2s, fist 5x, stick around 2x + press button-2 3x, tap ring 9x')).toEqual([
			[{kind: 'rest', seconds: 2}],
			[{kind: 'fist', times: 5}],
			[
				{kind: 'stick-around', times: 2},
				{kind: 'press', button: 2, times: 3},
			],
			[{kind: 'tap', finger: 'ring', times: 9}],
		]);
	});

	test('reads pulled reels and kept postures', () => {
		expect(parseScript('pull ring 3x, posture 20s, pull index')).toEqual([
			[{kind: 'pull', finger: 'ring', times: 3}],
			[{kind: 'posture', seconds: 20}],
			[{kind: 'pull', finger: 'index', times: 1}],
		]);
		expect(() => parseScript('pull 3x')).toThrow(/"pull 3x"/);
		expect(() => parseScript('pull ring 3s')).toThrow(/"pull ring 3s"/);
		expect(() => parseScript('posture 3x')).toThrow(/"posture 3x"/);
	});

	test('knows everything its help says', () => {
		for (const phrase of scriptHelp) expect(parseScript(phrase)).toHaveLength(1);
	});

	test('names the words it does not know and says what would do', () => {
		expect(() => parseScript('rest 2s, dance 3x')).toThrow(CannotError);
		expect(() => parseScript('rest 2s, dance 3x')).toThrow(/"dance 3x".*fist 5x/);
		expect(() => parseScript('fist 2s')).toThrow(/"fist 2s"/);
		expect(() => parseScript(' , ')).toThrow(/empty/);
		expect(() => parseScript('fist 0x')).toThrow(/does nothing/);
	});
});
