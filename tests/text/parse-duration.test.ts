import {describe, expect, it} from 'vitest';
import {CannotError} from '../../source/cannot-error.ts';
import {parseDuration} from '../../source/text/parse-duration.ts';

describe('parseDuration', () => {
	it.each([
		['500ms', 0.5],
		['9ms', 0.009],
		['20s', 20],
		['1.5s', 1.5],
		['2m', 120],
		['1h', 3600],
		[' 2m ', 120],
		['0s', 0],
	])('reads %s as %d seconds', (text, seconds) => {
		expect(parseDuration(text)).toBe(seconds);
	});

	it.each(['', '20', 's', '-1s', '1e3s', '20 s', '1h30m', '20S', 'Infinitys', '1.s', '٣s', `${'9'.repeat(400)}s`])(
		'refuses %j',
		text => {
			expect(() => parseDuration(text, '--for')).toThrow(CannotError);
		},
	);

	it('says what it takes, in one line, with the text shown safely', () => {
		expect(() => parseDuration('fast\u001B[2J', '--for')).toThrow(
			new CannotError(
				'--for must not be "fast\\u001b[2J": it takes a number with its unit, such as 500ms, 20s, 2m or 1h.',
			),
		);
	});
});
