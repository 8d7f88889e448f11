import {describe, expect, it} from 'vitest';
import {FedGlove} from './fed-glove.ts';
import {floatingRing, playGlove} from './play-glove.ts';

describe('LiveGlove', () => {
	it('gives the same state however seldom it is asked to gather, and keeps the times of arrival', async () => {
		const items = playGlove({...floatingRing, seconds: 20});
		const states = [];
		for (const every of [1, 7, 50, 400]) {
			const fed = new FedGlove();
			const {glove, queue} = fed;
			void glove.run();
			for (const [index, item] of items.entries()) {
				fed.now = item.t;
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
