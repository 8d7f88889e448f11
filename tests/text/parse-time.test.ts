import {expect, it} from 'vitest';
import {parseTime} from '../../source/text/parse-time.ts';

it('reads a place in a recording as people write it', () => {
	expect(parseTime('12:30')).toBe(750);
	expect(parseTime('0:07.5')).toBe(7.5);
	expect(parseTime('1:02:03')).toBe(3723);
	expect(parseTime(' 90s ')).toBe(90);
	expect(parseTime('1.5m')).toBe(90);
	expect(parseTime('42')).toBe(42);
});

it('takes nothing else for a time', () => {
	for (const text of ['', 'soon', '12:75', '1:60:00', '-5', '1:2:3:4', ':30'])
		expect([text, parseTime(text)]).toEqual([text, undefined]);
});
