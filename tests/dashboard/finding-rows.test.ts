import stringWidth from 'string-width';
import {describe, expect, it} from 'vitest';
import {findingPreview, findingRow, findingText, listedFindings} from '../../source/dashboard/finding-rows.ts';
import {findFault} from '../../source/faults/registry.ts';
import {rowText, rowWidth} from '../../source/screen/rows.ts';
import {glyphs, healthy, makeFinding} from './sample-picture.ts';

const older = makeFinding({code: 'dropout', channel: 'index', status: 'out-of-spec', from: 3});
const newer = makeFinding({from: 10});
const over = makeFinding({code: 'stall', channel: null, status: 'out-of-spec', from: 20, to: 22});
const snapshot = {...healthy, findings: [older, newer, over]};

describe('listedFindings', () => {
	it('has on top what to do first, also where that is older', () => {
		const first = {...older, first: true};
		expect(listedFindings({...healthy, findings: [first, newer, over]}).map(({code}) => code)).toEqual([
			'dropout',
			'floating-input',
			'stall',
		]);
	});

	it('has what is open first, the gravest first', () => {
		expect(listedFindings(snapshot).map(({code}) => code)).toEqual(['floating-input', 'dropout', 'stall']);
	});
});

describe('findingRow', () => {
	it('tells status, place, code and time in words and letters', () => {
		expect(rowText(findingRow(newer, 60, glyphs))).toMatch(/^ F ring {6}floating-input +since 0:10$/);
		expect(rowText(findingRow(over, 60, glyphs))).toMatch(/^ ✓ link\/all {2}stall +0:20–0:22$/);
	});

	it('is never wider than its panel', () => {
		const long = makeFinding({channel: 'a-very-long-channel-name'});
		for (const width of [38, 46, 60]) expect(rowWidth(findingRow(long, width, glyphs))).toBeLessThanOrEqual(width);
	});
});

describe('findingText', () => {
	it('leads with measurement, evidence and the next step; the catalogue’s causes come after', () => {
		const {first, rest} = findingText(newer, findFault('floating-input'), 70, glyphs);
		const lead = first.map(rowText);
		expect(lead[0]).toContain('ring: floating-input');
		expect(lead).toContain(' ring wanders by 4 % FS rms.');
		expect(lead).toContain(' rms percent FS 4');
		expect(lead.at(-1)).toBe(' → Volts from the input pin to ground.');
		const more = rest.map(rowText);
		expect(more).toContain(' 2. Volts at the middle lug.');
		expect(more).toContain(' likely causes, in order');
		expect(more).toContain(' remedy');
	});

	it('ends with the cautions of the advice, each once', () => {
		const {rest} = findingText({...newer, cautions: ['Power off first.']}, findFault('floating-input'), 500, glyphs);
		expect(rest.map(rowText).slice(-2)).toEqual([' caution', ' ! Power off first.']);
		expect(rest.filter(line => rowText(line).includes('Power off first.'))).toHaveLength(1);
	});

	it('says of a mended finding that it is', () => {
		const mended = {...over, mended: true};
		expect(rowText(findingRow(mended, 60, glyphs))).toMatch(/mended 0:20–0:22$/);
	});

	it('stays within its width', () => {
		const {first, rest} = findingText(newer, findFault('floating-input'), 44, glyphs);
		for (const line of [...first, ...rest].map(rowText)) expect(stringWidth(line)).toBeLessThanOrEqual(48);
	});
});

describe('findingPreview', () => {
	it('has the whole advice, before which the measurement gives way', () => {
		const wordy = makeFinding({summary: 'word '.repeat(100), advice: ['Measure here '.repeat(10), 'Then there.']});
		const rows = findingPreview(wordy, 60, 6, glyphs).map(rowText);
		expect(rows).toHaveLength(6);
		expect(rows.slice(2).join(' ').replace(/\s+/g, ' ')).toContain('Measure here '.repeat(10).trim());
		expect(rows.at(-1)).toBe(' 2. Then there.');
	});

	it('never shows device text raw', () => {
		const hostile = makeFinding({summary: 'last \u001B[2J', advice: ['look at \u001B]0;x\u0007']});
		const text = findingPreview(hostile, 60, 8, glyphs).map(rowText).join('\n');
		expect(text).not.toMatch(/[\u0000-\u0009\u000B-\u001F\u007F-\u009F]/);
		expect(text).toContain('\\x1b]0;x');
	});
});
