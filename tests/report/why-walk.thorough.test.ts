import {describe, expect, it} from 'vitest';
import {openNamedSource} from '../../source/command-line/source-options.ts';
import type {Fault} from '../../source/faults/fault.ts';
import {faults, findFault} from '../../source/faults/registry.ts';
import {explainText} from '../../source/report/explain-text.ts';
import {whyText} from '../../source/report/why-text.ts';
import {type Why, whyRows} from '../../source/session/check-rows.ts';
import {Session} from '../../source/session/session.ts';
import {figureText} from '../../source/text/number-text.ts';
import {faultySession} from '../gloves/simulated-session.ts';

// `check --why CODE` on logs that are just short of being found: a figure is printed, short of its limit, and the limit is
// the one that `explain CODE` prints.

const folder = new URL('../../recordings/', import.meta.url);

/** The sample of a code, broken off at `until` seconds: what came so far is just not enough. */
async function sampleUntil(code: string, until: number): Promise<Session> {
	const {source, session: options} = await openNamedSource(
		new URL(`${code}.gbrec`, folder).pathname,
		{},
		{stdin: process.stdin, signal: new AbortController().signal},
	);
	const session = new Session({baud: source.info.baud, ...options, timing: source.info.timing});
	for await (const batch of source.batches()) {
		for (const item of batch) if (item.t <= until) session.push(item);
	}
	session.end(until);
	return session;
}

/** A drawn glove whose fault is there from the first frame on, and just short of its definition. */
function drawnShort(code: string, severity: number, seed: number): {session: Session; channel: string | null} {
	const {session, truth} = faultySession(code, severity, seed);
	return {session, channel: truth.faults[0].channel};
}

const paragraph = (text: string): string => text.replace(/\s+/g, ' ');

/** What `explain` prints of a gate of one way: its condition in words, `at least 6 whole-hand movements`. */
function explained(fault: Fault, way: string | null, gateWords: string): string {
	const text = explainText(fault, 100);
	const heading = way === null ? 'When it is reported: all of these' : `When it is reported (${way}): all of these`;
	const [, after] = text.split(`${heading}\n`);
	expect(after, `${fault.code} explains ${heading}`).toBeDefined();
	const conditions = paragraph(after.split('\n\n')[0]).split(' - ');
	const found = conditions.map(each => each.replace(/^- /, '').trim()).find(each => each.startsWith(`${gateWords}: `));
	expect(found, `${fault.code} explains ${gateWords}`).toBeDefined();
	return found!.slice(gateWords.length + 2);
}

/** Asks what a row has to say where the check is short of its limit; answers the gate that refused. */
function expectFigures(fault: Fault, row: Why): string {
	expect(['clear', 'waiting']).toContain(row.state);
	const way = fault.ways.find(({name}) => name === row.way) ?? fault.ways[0];
	const gate = way.gates.find(({name}) => name === row.gate)!;
	expect(gate, `${fault.code} refused by ${row.gate}`).toBeDefined();
	const words = gate.name.replace(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`);
	const printed = paragraph(whyText([row], []));
	const limit = explained(fault, row.way, words);
	expect(printed).toContain(`${words})`);
	expect(limit.startsWith(row.asks!), `${limit} / ${row.asks}`).toBe(true);
	expect(printed).toContain(`asks ${row.asks}`);
	if (gate.kind === 'ground' || gate.kind === 'unless') {
		expect(printed).toContain(`saw ${row.saw}`);
		return gate.name;
	}
	// The figure that was seen, and the limit as a number out of the words of explain.
	expect(typeof row.saw, `${fault.code} tells a figure`).toBe('number');
	const saw = row.saw as number;
	const told = /^at (least|most) (-?\d+(?:\.\d+)?) /.exec(limit);
	expect(told, limit).not.toBeNull();
	const raise = Number(told![2]);
	if (told![1] === 'least') expect(saw).toBeLessThan(raise);
	else expect(saw).toBeGreaterThan(raise);
	expect(printed).toContain(`saw ${figureText(saw, 4)}, `);
	expect(figureText(saw, 4)).not.toBe(figureText(raise, 4));
	return gate.name;
}

/** Where each sample is broken off, and which gate has not seen enough by then. Events and words have no figure. */
const broken: readonly (readonly [code: string, channel: string | null, until: number, gate: string])[] = [
	['floating-input', 'ring', 3, 'watched'],
	['stuck-low', 'ring', 4.25, 'works'],
	['stuck-high', 'index', 5.75, 'works'],
	['stuck-mid', 'little', 4.25, 'works'],
	['dropout', 'ring', 8, 'jumps'],
	['rough-track', 'ring', 11.25, 'movement'],
	['mains-hum', 'middle', 16, 'windows'],
	['clipped-range', 'middle', 6.5, 'movements'],
	['narrow-span', 'ring', 6.5, 'movements'],
	['baseline-drift', 'middle', 10.25, 'openings'],
	['backlash', 'middle', 37.25, 'movements'],
	['coarse-steps', 'thumb', 2.25, 'changes'],
	['reversed-sensor', 'ring', 5.25, 'movements'],
	['crosstalk', 'stick-x', 3.75, 'trips'],
	['supply-ripple', null, 4.25, 'wired'],
	['shared-ceiling', null, 5.5, 'movements'],
	['wrong-full-scale', null, 2.75, 'watched'],
	['stick-off-centre', 'stick-x', 2, 'rest'],
	['stick-no-return', 'stick-y', 4.5, 'releases'],
	['stick-short-throw', 'stick-x', 3.5, 'reach'],
	['settings-stale', 'ring', 6.25, 'closed'],
	['button-bounce', 'button-1', 1.25, 'presses'],
	['button-floating', 'button-1', 5, 'watched'],
	['button-held', 'button-1', 15, 'held'],
	['wrong-baud', null, 0.75, 'lasts'],
	['broken-frames', null, 5, 'timesChance'],
	['bursty-delivery', null, 1.25, 'frames'],
	['stall', null, 9.5, 'gap'],
	['lost-frames', null, 5, 'counted'],
	['line-saturated', null, 5, 'watched'],
	// What waits for another thing than a number, and events: the words of what was seen instead.
	['excess-noise', 'index', 5.25, 'follows'],
	['duplicate-channel', 'ring', 5, 'proven'],
	['device-restart', null, 6.25, 'again'],
	['stray-text', null, 4.5, 'stray'],
	['port-lost', null, 14, 'gone'],
	['silent', null, 16, 'bytes'],
];

/** Drawn gloves whose fault stays short of its limit over the whole log, and the gate that it falls short of. */
const short: readonly (readonly [code: string, severity: number, seed: number, gate: string])[] = [
	['backlash', -0.05, 2, 'play'],
	['bursty-delivery', -0.05, 1, 'share'],
	['coarse-steps', -0.05, 1, 'step'],
	['clipped-range', -0.6, 1, 'share'],
	['crosstalk', -0.3, 1, 'push'],
	['duplicate-channel', -0.05, 2, 'equal'],
	['excess-noise', -0.05, 1, 'noise'],
	['line-saturated', -0.3, 1, 'load'],
	['lost-frames', -0.3, 2, 'share'],
	['mains-hum', -0.3, 1, 'peak'],
	['narrow-span', -0.3, 1, 'ratio'],
	['rough-track', -0.05, 1, 'rate'],
	['slow-frames', -0.3, 1, 'rate'],
	['stick-off-centre', -0.3, 1, 'off'],
	['uneven-frames', -0.05, 1, 'jitter'],
];

describe('check --why on a log just short of the limit prints the figure seen and the limit that explain prints', () => {
	it.each(broken)('%s on %s, broken off at %d s', async (code, channel, until, gate) => {
		const fault = findFault(code)!;
		const session = await sampleUntil(code, until);
		expect(session.findings.map(finding => finding.code)).not.toContain(code);
		const rows = whyRows(session, fault, channel ?? undefined).filter(row => row.channel === channel);
		expect(rows).toHaveLength(1);
		expect(expectFigures(fault, rows[0])).toBe(gate);
	});

	it.each(short)('%s, drawn at severity %d as glove %i', (code, severity, seed, gate) => {
		const fault = findFault(code)!;
		const {session, channel} = drawnShort(code, severity, seed);
		expect(session.findings.map(finding => finding.code)).not.toContain(code);
		const rows = whyRows(session, fault, channel ?? undefined).filter(row => row.channel === channel);
		expect(rows).toHaveLength(1);
		expect(expectFigures(fault, rows[0])).toBe(gate);
	});

	it('is walked for every code that a session can find', () => {
		const walked = new Set([...broken, ...short].map(([code]) => code));
		const wanted = faults.filter(({ways}) => ways.length > 0).map(({code}) => code);
		expect(wanted.filter(code => !walked.has(code))).toEqual([]);
	});
});
