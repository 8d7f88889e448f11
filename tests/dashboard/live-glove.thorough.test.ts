import {describe, expect, it} from 'vitest';
import {LiveGlove} from '../../source/dashboard/live-glove.ts';
import {ItemQueue} from '../../source/sources/item-queue.ts';
import {queueSource} from '../gloves/queue-source.ts';
import {floatingRing, playGlove} from './play-glove.ts';

const options = {timing: 'measured', baud: null} as const;

describe('LiveGlove', () => {
	it('gives the same state however seldom it is asked to gather, and keeps the times of arrival', async () => {
		const items = playGlove({...floatingRing, seconds: 20});
		const states = [];
		for (const every of [1, 7, 50, 400]) {
			const queue = new ItemQueue();
			let now = 0;
			const glove = new LiveGlove(
				queueSource(queue, () => now),
				options,
			);
			void glove.run();
			for (const [index, item] of items.entries()) {
				now = item.t;
				queue.push(item);
				if (index % every === every - 1) await glove.gather();
			}

			await glove.gather();
			states.push(glove.session.snapshot());
			await glove.close();
		}

		expect(states[0].findings.map(({code}) => code)).toContain('floating-input');
		expect(states[0].link.framesPerSecond).toBeCloseTo(100, 6);
		for (const state of states) expect(state).toEqual(states[0]);
	});
});
