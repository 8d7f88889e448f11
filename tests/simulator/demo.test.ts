import {describe, expect, test} from 'vitest';
import {Session} from '../../source/session/session.ts';
import {demoRoundSeconds, demoSpec} from '../../source/simulator/demo.ts';
import {simulate} from '../../source/simulator/simulate.ts';

describe('the demonstration', () => {
	test('begins healthy, shows a fault within its first six seconds, and repairs every one before the round ends', () => {
		const {items, truth} = simulate(demoSpec(demoRoundSeconds));
		for (const {from} of truth.faults) expect(from).toBeGreaterThanOrEqual(2);
		const spec = demoSpec(demoRoundSeconds);
		for (const fault of spec.faults) {
			for (const [from, to] of fault.windows!.slice(0, 3)) {
				expect(Math.floor(from / demoRoundSeconds)).toBe(Math.floor(to! / demoRoundSeconds));
			}
		}
		const session = new Session({timing: 'measured', baud: 115200, fullScale: 1023});
		for (const item of items) session.push(item);
		session.end(demoRoundSeconds);
		const {findings} = session.snapshot();
		expect(Math.min(...findings.map(({flaggedAt}) => flaggedAt))).toBeLessThan(6);
		const shown = new Set(findings.map(({code}) => code));
		for (const code of ['dropout', 'stall', 'broken-frames', 'stray-text']) expect([...shown]).toContain(code);
	});

	test('plays on and on: the next round brings the faults again', () => {
		const {items} = simulate(demoSpec(demoRoundSeconds + 45));
		const gaps = items.flatMap((item, i) => (i > 0 && item.t - items[i - 1].t > 1 ? [item.t] : []));
		expect(gaps.some(t => t < demoRoundSeconds)).toBe(true);
		expect(gaps.some(t => t > demoRoundSeconds)).toBe(true);
	});
});
