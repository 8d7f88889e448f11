import {describe, expect, it} from 'vitest';
import {evidenceText} from '../../source/report/evidence-text.ts';

describe('evidence in words', () => {
	it('reads the unit of evidence off its name', () => {
		expect(evidenceText('restNoisePercentFs', 4.13)).toBe('rest noise 4.13 % FS');
		expect(evidenceText('mainsHertz', 50)).toBe('mains 50 Hz');
		expect(evidenceText('jumps', 21)).toBe('jumps 21');
		expect(evidenceText('changePercentOfSpan', 12)).toBe('change 12 % of span');
		expect(evidenceText('copyOf', 'index')).toBe('copy of index');
		expect(evidenceText('constructor', 'of a later version')).toBe('constructor of a later version');
	});
});
