import {expect, test} from 'vitest';
import {frameText} from '../../source/frames/frame-text.ts';
import {readTemplate} from '../../source/frames/line-template.ts';

const row = (template: string, values = [512, 498]): string =>
	frameText(readTemplate(template), ['thumb', 'index'], false).row(1.25, Float64Array.from(values));

test('puts readings where their headings stand in braces', () => {
	expect(row('T{thumb} I{index}\\n')).toBe('T512 I498\n');
	expect(row('{index};{thumb};{seconds}\\r\\n')).toBe('498;512;1.250000\r\n');
	expect(row('{{"t":{thumb}}}')).toBe('{"t":512}\n');
	expect(row('a\\tb\\\\')).toBe('a\tb\\\n');
	expect(row('{thumb},{index}', [Number.NaN, 3])).toBe(',3\n');
});

test('names what cannot be read in a template', () => {
	expect(() => row('T{thumb')).toThrow(/character 2 has no partner/);
	expect(() => row('\\x')).toThrow(/stands for nothing/);
	expect(() => row('\\')).toThrow(/stands for nothing/);
	expect(() => row('{pinky}')).toThrow(/no channel is called "pinky"; there are seconds, thumb and index/);
	expect(() => row('{\u001b[31m}')).toThrow(/\\u001b|␛|\\x1b|\\e/i);
});
