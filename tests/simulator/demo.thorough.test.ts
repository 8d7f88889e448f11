import {describe, expect, test} from 'vitest';
import {Session} from '../../source/session/session.ts';
import type {Finding} from '../../source/session/snapshot.ts';
import {demoRoundSeconds, demoScenes, demoSpec} from '../../source/simulator/demo.ts';
import {simulate} from '../../source/simulator/simulate.ts';

/** The findings of so many rounds, as `demo` gives them. */
function playedFor(rounds: number, seed?: number): readonly Finding[] {
	const seconds = rounds * demoRoundSeconds;
	const {items, truth} = simulate(demoSpec(seconds, seed));
	const {baud, fullScale} = truth.declared;
	const session = new Session({timing: 'measured', baud, fullScale});
	for (const item of items) session.push(item);
	session.end(seconds);
	return session.findings;
}

const nameOf = ({code, channel}: {readonly code: string; readonly channel: string | null}): string =>
	channel === null ? code : `${code} on ${channel}`;

/** Seconds between a scene's ends and those of the stretch it is told as. */
const near = 3;

describe('the demonstration', () => {
	const once = playedFor(1);

	test.each([1, 3])('names exactly the faults that it plays, each once and by its own code (%i rounds)', rounds => {
		const findings = rounds === 1 ? once : playedFor(rounds);
		expect(findings.map(nameOf)).toEqual(demoScenes.map(nameOf));
		for (const [n, {spans}] of findings.entries()) {
			const scene = demoScenes[n];
			expect(spans, nameOf(scene)).toHaveLength(rounds);
			for (const [round, [from, to]] of spans.entries()) {
				const begin = round * demoRoundSeconds;
				expect(Math.abs(from - begin - scene.from), `${nameOf(scene)}, beginning in round ${round + 1}`).toBeLessThan(
					near,
				);
				// What comes and goes stays open for a minute after its last sign, and is then dated back to it.
				expect(to, `${nameOf(scene)} is over by the end of round ${round + 1}`).not.toBeNull();
				expect(Math.abs(to! - begin - scene.to), `${nameOf(scene)}, end in round ${round + 1}`).toBeLessThan(near);
			}
		}
	});

	test('tells each fault while it is there, the first within six seconds', () => {
		expect(once[0].flaggedAt).toBeLessThan(6);
		for (const [n, {from, to}] of demoScenes.entries()) {
			expect(once[n].flaggedAt).toBeGreaterThanOrEqual(from);
			expect(once[n].flaggedAt).toBeLessThanOrEqual(to);
		}
	});

	test('begins healthy, ends every scene within its round, and plays none twice', () => {
		expect(new Set(demoScenes.map(({code}) => code)).size).toBe(demoScenes.length);
		let before = 0;
		for (const {from, to} of demoScenes) {
			expect(from).toBeGreaterThanOrEqual(before + 2);
			before = to;
		}
		expect(before).toBeLessThan(demoRoundSeconds - 2);
	});

	test('plays on and on: the next round brings the faults again', () => {
		const {items} = simulate(demoSpec(demoRoundSeconds + 45));
		const gaps = items.flatMap((item, i) => (i > 0 && item.t - items[i - 1].t > 1 ? [item.t] : []));
		expect(gaps.some(t => t < demoRoundSeconds)).toBe(true);
		expect(gaps.some(t => t > demoRoundSeconds)).toBe(true);
	});
});
