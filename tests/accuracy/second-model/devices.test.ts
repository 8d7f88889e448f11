import {expect, test} from 'vitest';
import {Random} from '../../../source/simulator/random.ts';
import {divide, learnRange} from './firmware.ts';
import {drawGlove} from './glove.ts';
import {openPin, stillPin} from './open-pin.ts';
import {Plan} from './plan.ts';
import {Take} from './take.ts';
import {readAtOtherSpeed} from './wire.ts';

function restingTake(seconds: number): Take {
	const random = new Random(4);
	const glove = drawGlove(random, {board: 'avr', rates: [100], stick: false, buttons: 0});
	const plan = new Plan(random, glove.fingers);
	plan.wait(seconds);
	return new Take(glove, plan, random, {hand: false}).convert();
}

test('firmware that learns touches both ends whenever it sees a new extreme', () => {
	const take = restingTake(0.06);
	take.readings.set('thumb', Float64Array.from([10, 10, 12, 11, 14, 9]));
	learnRange(take, 100);
	// By hand: no range yet, none, (12−10)/2, (11−10)/2, (14−10)/4, (9−9)/5 of 100.
	expect([...take.reading('thumb')]).toEqual([0, 0, 100, 50, 100, 0]);
});

test('fewer bits are whole numbers', () => {
	const take = restingTake(0.03);
	take.readings.set('thumb', Float64Array.from([0, 7, 1023]));
	divide(take, 4);
	expect([...take.reading('thumb')]).toEqual([0, 1, 255]);
});

test('an open pin keeps its share of the pin read before, and goes to its own plateau for the rest', () => {
	const take = restingTake(4);
	const before = take.reading('index');
	for (let k = 200; k < 400; k++) before[k] += 400;
	openPin(take, 'middle', {...stillPin, ghost: 0.6, plateau: 0.3});
	const mean = (from: number): number =>
		take
			.reading('middle')
			.slice(from, from + 200)
			.reduce((a, b) => a + b) / 200;
	expect(mean(200) - mean(0)).toBeCloseTo(0.6 * 400, 0);
	const index = before.slice(0, 200).reduce((a, b) => a + b) / 200;
	expect(mean(0)).toBeCloseTo(0.6 * index + 0.4 * 0.3 * 1023, 0);
});

test('text read at its own speed is itself, at others mostly no text', () => {
	const lines = Array.from({length: 20}, (_, n) => ({at: n, text: `51${n},498,600`}));
	const text = (readBaud: number): Buffer =>
		Buffer.concat(readAtOtherSpeed(lines, 115_200, readBaud).map(({bytes}) => Buffer.from(bytes!)));
	expect(text(115_200).toString()).toBe(lines.map(line => `${line.text}\r\n`).join(''));
	for (const baud of [9600, 38_400, 74_880, 230_400]) {
		const strange = text(baud).filter(byte => byte > 126 || (byte < 32 && byte !== 9 && byte !== 10 && byte !== 13));
		// docs/faults.md asks for a fifth.
		expect(strange.length / text(baud).length, `${baud} baud`).toBeGreaterThan(0.3);
	}
});
