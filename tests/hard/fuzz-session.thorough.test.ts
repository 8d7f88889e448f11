import {describe, expect, it} from 'vitest';
import {Session} from '../../source/session/session.ts';
import {expectBounded, play} from './hostile-session.ts';
import {hostileStreams} from './hostile-streams.ts';
import {growth} from './work.ts';

describe('a session', () => {
	it('spends on eight times the bytes about eight times the work, whatever the stream', async () => {
		for (const name of [
			'random digits and separators',
			'labels that are new in every line',
			'labels that are new every second',
			'a layout that flips every 8 lines',
			'SLIP packets that change their length',
			'JSON keys that are new in every line',
		]) {
			const make = hostileStreams[name]!;
			// 8 if linear, 64 if quadratic.
			expect(
				await growth(
					() => play(make(3000, 4)),
					() => play(make(24_000, 4)),
				),
				name,
			).toBeLessThan(25);
		}
	});

	it('takes one line of 50 MB and keeps nothing of it but its beginning', () => {
		const chunk = new Uint8Array(1 << 20).fill(0x37);
		const session = new Session({timing: 'measured', baud: null});
		for (let index = 0; index < 50; index++) session.push({t: index, bytes: chunk});
		session.end();
		expect(session.link.bytes).toBe(50 << 20);
		expect(session.link.badLines + session.link.strayLines).toBe(1);
		expectBounded(session);
	});

	it('keeps bounded lists of marks and link events, and their text short', () => {
		const session = new Session({timing: 'measured', baud: null});
		for (let index = 0; index < 30_000; index++) {
			session.push({t: index / 1000, mark: 'm'.repeat(5000)});
			session.push({t: index / 1000, event: index % 2 ? 'port-lost' : 'reattached', detail: 'd'.repeat(5000)});
		}

		session.end();
		expectBounded(session);
		expect(
			Math.max(...session.marks.map(({mark}) => mark.length), ...session.events.map(({detail}) => detail?.length ?? 0)),
		).toBe(2000);
	});
});
