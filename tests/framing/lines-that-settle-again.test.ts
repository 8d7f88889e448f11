import {expect, it} from 'vitest';
import {Framer} from '../../source/framing/framer.ts';

/** Frames and other lines that come of a text. */
function read(text: string): {readonly frames: number[][]; readonly others: number} {
	const frames: number[][] = [];
	let others = 0;
	const framer = new Framer({
		layout: () => {},
		frame: (_t, values) => frames.push([...values]),
		badLine: () => others++,
		strayLine: () => others++,
	});
	framer.push(0, Buffer.from(text));
	framer.end(1);
	return {frames, others};
}

it('reads a number that ends with its point, in every line of a stream', () => {
	const lines = Array.from({length: 100}, (_, i) => [i, 5, 300 - i]);
	const {frames, others} = read(lines.map(([a, b, c]) => `${a};${b}.;${c}\n`).join(''));
	expect(others).toBe(0);
	expect(frames).toEqual(lines);
});

it('ends, and loses no line, where lines that settle a layout do not fit it', () => {
	// As random lines found them: exponents and times that run into each other, so that two readers part them in two ways.
	for (const tail of ['5-35e1e212:30', '1e21e09:14:07#5', '+7-5.-5.1e2e509:14:07']) {
		const lines = Array.from({length: 90}, (_, i) => `${i % 3 === 0 ? i / 10 : i}${tail}\n`);
		const {frames, others} = read(lines.join(''));
		expect(frames.length + others).toBe(lines.length);
	}
});
