import {describe, expect, it} from 'vitest';
import {receivedText} from '../../source/share/received-text.ts';

const received = (...chunks: (string | number[])[]) =>
	receivedText(
		chunks.map((chunk, t) => ({
			t,
			bytes: typeof chunk === 'string' ? new TextEncoder().encode(chunk) : Uint8Array.from(chunk),
		})),
	);

describe('receivedText', () => {
	it('gives what is said in words, also cut between pieces, and no bare readings', () => {
		expect(received('Glove of Eb', 'ba, rev 3\r\n512,498\r\n', '511,', '497\nbattery low')).toEqual([
			'Glove of Ebba, rev 3',
			'battery low',
		]);
	});

	it('gives one example of lines that differ only in their numbers', () => {
		expect(received('thumb:512,ring:-3.5\nthumb:513,ring:40\nthumb:514,ring:7\n')).toEqual(['thumb:512,ring:-3.5']);
	});

	it('gives words between colours and other control sequences, escaped', () => {
		expect(received('\u001b[0;32mI (312) wifi: joined HomeNet\u001b[0m\r\n512,498\r\n')).toEqual([
			'\\x1b[0;32mI (312) wifi: joined HomeNet\\x1b[0m',
		]);
		// A name in a window's title is a name all the same.
		expect(received('\u001b]0;glove of Bo\u0007\n')).toEqual(['\\x1b]0;glove of Bo\\x07']);
		expect(received('bell\u0007 rung\u0000\n')).toEqual(['bell\\x07 rung\\x00']);
	});

	it('takes no packet for words', () => {
		expect(received([0xc0, 0x41, 0x42, 0x43, 0x44, 0x01, 0xc0, 0xff, 0x0a])).toEqual([]);
	});

	it('keeps at most 200, and little of a line without an end', () => {
		const words = Array.from(
			{length: 300},
			(_, i) => `word${String.fromCodePoint(97 + (i % 26), 97 + Math.floor(i / 26))}`,
		);
		expect(received(words.join('\n'))).toHaveLength(200);
		expect(received(`said ${'x'.repeat(1e5)}`)[0]?.length).toBeLessThanOrEqual(72);
	});
});
