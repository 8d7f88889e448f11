import {expect, test} from 'vitest';
import {isWords} from '../../source/framing/line-bytes.ts';
import {toBytes} from './record-framer.ts';

test.each([
	['start-up text', 'boot mode 3', true],
	['with a line end of either kind, and a tab', 'boot\r\nmode\t3', true],
	['capital letters', 'RST 1', true],
	['numbers alone', '512,498', false],
	['letters by twos', 'ab cd ef', false],
	['a control sign in it', 'boot\u0001mode', false],
	['letters beyond ASCII, which bytes of a packet may be as well', 'größe', false],
	['nothing', '', false],
])('what stands between packets is words, or junk: %s', (_title, text, isOne) => {
	expect(isWords(toBytes(text))).toBe(isOne);
});
