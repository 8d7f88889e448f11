import {describe, expect, it} from 'vitest';
import {Session} from '../../source/session/session.ts';
import {Random} from '../../source/simulator/random.ts';

// A glove under assembly: one reel connected and pulled, the other pins open. Hand-made streams, apart from the simulator:
// a 10-bit converter at 100 frames/s; the reel goes there and back every 1.6 s with rests.

const names = ['thumb', 'index', 'middle', 'ring', 'little', 'thumb-2', 'index-2', 'middle-2', 'ring-2', 'little-2'];

/** Share of the way of a minimum-jerk movement. */
const jerk = (u: number): number => (u <= 0 ? 0 : u >= 1 ? 1 : u ** 3 * (10 - 15 * u + 6 * u * u));

/** Reading of a connected reel at time t: 0.4 s closing, 0.2 s closed, 0.4 s opening, 0.6 s open. */
function reel(t: number): number {
	const phase = t % 1.6;
	return 220 + 520 * (phase < 0.6 ? jerk(phase / 0.4) : 1 - jerk((phase - 0.6) / 0.4));
}

type Open = (random: Random, t: number, held: number) => number;

/** The capacitor keeps nine tenths of the pin read before. */
const ghost: Open = (random, _t, held) => 0.9 * held + 0.1 * 300 + random.normal(0, 0.4);

/** Mains pickup of 6 % FS peak about a bias. */
const pickup: Open = (random, t) => 480 + 60 * Math.sin(2 * Math.PI * 50 * 1.003 * t) + random.normal(0, 2);

/** White charge noise of 4 % FS. */
const noise: Open = random => 420 + random.normal(0, 41);

function assemble(count: number, connected: number, open: Open): {found: Map<string, string[]>; frames: number} {
	const random = new Random(11);
	const layout = names.slice(0, count);
	const session = new Session({timing: 'measured', baud: 115_200, fullScale: 1023, layout: layout.join(',')});
	let held = 300;
	for (let n = 0; n < 2500; n++) {
		const t = n / 97;
		const values = layout.map((_, i) => {
			const exact = i === connected ? reel(t) + random.normal(0, 0.6) : open(random, t, held);
			held = Math.min(1023, Math.max(0, exact));
			return Math.round(held);
		});
		session.push({t, bytes: new TextEncoder().encode(`${values.join(',')}\r\n`)});
	}
	session.end(2500 / 97);
	const found = new Map<string, string[]>();
	for (const {code, channel} of session.findings)
		found.set(channel ?? 'link', [...(found.get(channel ?? 'link') ?? []), code]);
	return {found, frames: session.link.frames};
}

describe('a partly wired glove', () => {
	for (const count of [3, 4, 5, 10]) {
		for (const [kind, open] of [
			['copies of the pin read before', ghost],
			['mains pickup', pickup],
			['noise', noise],
		] as const) {
			it(`${count} fingers, only the first connected, the rest ${kind}: the open ones are named, the connected one is not`, () => {
				const {found, frames} = assemble(count, 0, open);
				expect(frames).toBe(2500);
				expect(found.get(names[0]) ?? []).toEqual([]);
				for (const name of names.slice(1, count)) expect(found.get(name) ?? [], name).toContain('floating-input');
			});
		}
	}
});
