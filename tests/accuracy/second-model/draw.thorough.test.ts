import {expect, test} from 'vitest';
import {secondCorpus} from './draw.ts';

test('what has to be found is there within the session, and on a channel that was sent', () => {
	for (const {family, n, draw} of secondCorpus(1).filter(({family, n}) => family.code !== undefined && n === 0)) {
		const {expectation, seconds} = draw();
		expect(expectation.musts.length, family.name).toBeGreaterThan(0);
		for (const {codes, from, evidenceAt, until} of expectation.musts) {
			const place = `${family.name} ${n}`;
			expect(codes.length, place).toBeGreaterThan(0);
			expect(from ?? 0, place).toBeLessThan(seconds);
			expect(evidenceAt ?? 0, place).toBeLessThanOrEqual(seconds);
			if (until !== null) expect(until, place).toBeGreaterThan(from ?? 0);
		}
	}
});
