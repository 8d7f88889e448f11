import {describe, expect, test} from 'vitest';
import {Delivery} from '../../source/simulator/delivery.ts';
import {Random} from '../../source/simulator/random.ts';
import {plainLink} from '../../source/simulator/stream-spec.ts';

const byteSeconds = 10 / 115200;

function deliver(
	link: Partial<typeof plainLink>,
	frames: number,
	period: number,
	bytes: number,
): {t: number; length: number}[] {
	const delivery = new Delivery({...plainLink, hostDelayMs: 0, ...link}, new Random(1));
	for (let n = 0; n < frames; n++) delivery.push(n * period, byteSeconds, new Uint8Array(bytes).fill(n));
	delivery.advance(frames * period + 1);
	return delivery.take().map(item => ({t: item.t, length: 'bytes' in item ? item.bytes.length : 0}));
}

describe('Delivery', () => {
	test('hands over whole frames when their last byte is in', () => {
		const chunks = deliver({delivery: 'direct'}, 5, 0.02, 40);
		expect(chunks.map(({length}) => length)).toEqual([40, 40, 40, 40, 40]);
		// 40 bytes take 3.4722 ms at 115200 baud (check-values U4).
		expect(chunks.map(({t}, n) => t - n * 0.02).every(late => Math.abs(late - 0.0034722) < 2e-6)).toBe(true);
	});

	test('a latency timer of 16 ms brings frames in batches, all bytes and in order', () => {
		// 40 bytes 60 times a second: 62 bytes would take 25.8 ms to come, so the timer governs (check-values U13, U14).
		const chunks = deliver({delivery: 'poll', pollMs: 16, packetBytes: 62}, 120, 1 / 60, 40);
		expect(chunks.reduce((sum, {length}) => sum + length, 0)).toBe(120 * 40);
		for (let i = 1; i < chunks.length; i++) {
			const ticks = (chunks[i].t - chunks[i - 1].t) / 0.016;
			expect(Math.abs(ticks - Math.round(ticks))).toBeLessThan(0.001);
		}
	});

	test('a full packet of 62 bytes goes out before the timer', () => {
		// At the full line rate 62 bytes come every 5.381944 ms (check-values U14).
		const chunks = deliver({delivery: 'poll', pollMs: 16, packetBytes: 62}, 100, 62 * byteSeconds, 62);
		const full = chunks.filter(({length}) => length === 62);
		expect(full.length).toBeGreaterThan(50);
		const spacing = full.slice(1, 20).map(({t}, i) => t - full[i].t);
		expect(Math.min(...spacing)).toBeLessThan(0.0055);
	});
});
