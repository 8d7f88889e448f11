import {describe, expect, it} from 'vitest';
import {precedences, winnersOver} from '../../source/faults/precedence.ts';
import {findFault} from '../../source/faults/registry.ts';
import {Session} from '../../source/session/session.ts';
import {Random} from '../../source/simulator/random.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {randomScenario} from '../gloves/scenario.ts';

function codesOf(code: string, variant: string, seed: number): {codes: string[]; channels: (string | null)[]} {
	const {spec} = randomScenario(new Random(seed), {code, variant, severity: 0.6});
	// One cause: where the draw has several channels at fault, the first alone.
	const faults = (spec.faults ?? []).slice(0, 1).map(fault => ({...fault, from: 0}));
	const {items, truth} = simulate({...spec, faults});
	const {baud, fullScale, layout, targetRate} = truth.declared;
	const session = new Session({
		timing: 'measured',
		baud,
		fullScale,
		...(layout === null ? {} : {layout}),
		...(targetRate === null ? {} : {targetRate}),
	});
	for (const item of items) session.push(item);
	session.end(truth.durationSeconds);
	return {
		codes: [...new Set(session.findings.map(finding => finding.code))].sort(),
		channels: session.findings.map(({channel}) => channel),
	};
}

describe('the table of precedence', () => {
	it('names known codes only, and no code beats itself', () => {
		for (const {winner, losers} of precedences) {
			expect(findFault(winner), winner).toBeDefined();
			for (const loser of losers) expect(findFault(loser), loser).toBeDefined();
			expect(losers).not.toContain(winner);
		}
	});
	it('never lets two codes silence each other', () => {
		for (const [loser, winners] of winnersOver) {
			for (const [winner] of winners) {
				const back = winnersOver.get(winner) ?? [];
				expect(
					back.map(([name]) => name),
					`${winner} and ${loser}`,
				).not.toContain(loser);
			}
		}
	});
});

describe('one cause gives one finding', () => {
	it.each([
		['stuck-low', 'supply-open', 3],
		['stuck-high', 'ground-open', 3],
		['device-restart', 'watchdog', 4],
		['bursty-delivery', 'radio', 3],
		['reversed-sensor', 'legs-exchanged', 3],
		['duplicate-channel', 'read-twice', 3],
		['supply-ripple', 'rectifier', 3],
		['mains-hum', '50', 3],
	])('%s (%s)', (code, variant, seed) => {
		expect(codesOf(code, variant, seed).codes).toEqual([code]);
	});
});
