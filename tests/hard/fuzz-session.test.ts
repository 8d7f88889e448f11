import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {findFault} from '../../source/faults/registry.ts';
import {checkJson} from '../../source/report/check-json.ts';
import {htmlReport} from '../../source/report/html/page.ts';
import {markdownReport} from '../../source/report/markdown-report.ts';
import {textReport} from '../../source/report/text-report.ts';
import {FindingBook} from '../../source/session/finding-book.ts';
import {runSession} from '../../source/session/run-session.ts';
import {Session} from '../../source/session/session.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {memorySource} from '../gloves/memory-source.ts';
import {expectToKeepTo} from '../report/published-schema.ts';
import {expectBounded, play} from './hostile-session.ts';
import {hostileStreams, randomBytes, seeded} from './hostile-streams.ts';

const info = {kind: 'recording', name: 'hostile.gbrec', timing: 'measured', baud: 115_200} as const;

/** Every report of a session that is over can be written, and none is beyond measure. */
function expectReports(session: Session): void {
	const snapshot = session.snapshot();
	const run = {session, snapshot, info, sample: new Uint8Array()};
	expect(JSON.stringify(checkJson(snapshot, info)).length).toBeLessThan(3_000_000);
	expect(textReport(snapshot, info, {color: false, ascii: false}).length).toBeLessThan(3_000_000);
	expect(markdownReport(run, {full: false}).length).toBeLessThanOrEqual(2000);
	expect(htmlReport(run).length).toBeLessThan(6_000_000);
}

describe('a session', () => {
	it('takes every hostile stream, holds bounded state, and can be reported on', () => {
		for (const [name, make] of Object.entries(hostileStreams)) {
			if (name.startsWith('runs of') || name.startsWith('long runs')) continue;
			const session = play(make(4000, 23));
			expectBounded(session);
			expectReports(session);
		}
	});

	it('takes random bytes at a link’s pace for what they are: the wrong rate', () => {
		const session = play(randomBytes(300_000, 77), 4096);
		expect(session.findings.map(({code}) => code)).toContain('wrong-baud');
		expectBounded(session);
	});

	const anyTime = fc.oneof(
		fc.double(),
		fc.constantFrom(0, -0, 1e9, 1e300, -1e300, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 5e-324),
		fc.double({min: 0, max: 100}),
	);

	it('has a time that is a number, never falls and ends in thirty years, whatever times the items have', () => {
		fc.assert(
			fc.property(fc.array(anyTime, {maxLength: 12}), times => {
				const session = new Session({timing: 'measured', baud: 9600});
				let last = 0;
				for (const t of times) {
					session.push({t, bytes: Buffer.from('1,2,3,4,5\n')});
					expect(session.t).toBeGreaterThanOrEqual(last);
					last = session.t;
				}

				session.end();
				expect(session.t).toBeLessThanOrEqual(1e9);
				expectBounded(session);
			}),
			{seed: 9, numRuns: 3},
		);
	});

	it('crosses thirty years of silence in a bounded number of steps, and finds the silence', async () => {
		const frames = (from: number): SourceItem[] =>
			Array.from({length: 50}, (_, index) => ({
				t: from + index / 50,
				bytes: Buffer.from(`${500 + (index % 7)},2,3,4,5\n`),
			}));
		let steps = 0;
		const items = [...frames(0), ...frames(9e8)];
		const {snapshot} = await runSession(memorySource(items, info), {watch: () => steps++});
		// Two minutes at ten steps a second, and as many for each of the 23 doublings from two minutes to 9e8 seconds.
		expect(steps).toBeLessThan(24 * 1200);
		expect(snapshot.link.frames).toBe(100);
		expect(snapshot.findings.map(({code}) => code)).toContain('stall');
	});

	it('finds after a silence of an hour what it finds without one', () => {
		const broken = (from: number): SourceItem[] =>
			Array.from({length: 2000}, (_, index) => ({
				t: from + index / 100,
				bytes: Buffer.from(index % 9 === 0 ? '51\n' : `${500 + (index % 7)},2,3,4,5\n`),
			}));
		const codes = (silence: number): string[] => {
			const session = new Session({timing: 'measured', baud: null});
			for (const item of [...broken(0), ...broken(20 + silence)]) session.push(item);
			session.end();
			return session.findings
				.filter(({code}) => code !== 'silent' && code !== 'stall')
				.map(({code, channel}) => `${code} ${channel}`);
		};
		expect(codes(3600)).toEqual(codes(0));
		expect(codes(0).length).toBeGreaterThan(0);
	});

	// Found by fuzzing: sums of squares of such numbers drowned the others, and a gap at a turn made its level no number.
	it('gives numbers for evidence, whatever numbers and gaps are among the readings', () => {
		const odd = [
			'9'.repeat(40),
			'1e300',
			'-1e300',
			'9007199254740993',
			'1e15',
			'-0',
			'nan',
			'',
			'null',
			'67108865',
			'-99999',
		];
		for (const [which, value] of odd.entries()) {
			const random = seeded(which);
			const session = new Session({timing: 'measured', baud: 115_200});
			for (let frame = 0; frame < 900; frame++) {
				const hand = Math.round(500 + 450 * Math.sin(frame / 10));
				const fields = Array.from({length: 7}, (_, column) =>
					String(column < 5 ? hand + Math.floor(random() * 6) + column : 512),
				);
				for (let column = 0; column < 7; column++)
					if (random() < (which % 3) * 0.05 || (column === 2 && frame % 50 === 7)) fields[column] = value;
				session.push({t: frame / 100, bytes: Buffer.from(`${fields.join(',')}\n`)});
			}

			session.end();
			const report = checkJson(session.snapshot(), info);
			expectToKeepTo('check', JSON.parse(JSON.stringify(report)));
			expect(textReport(session.snapshot(), info, {color: false, ascii: false})).not.toMatch(
				/NaN|Infinity|undefined|\de\+\d/,
			);
		}
	});

	it('bounds its findings, and the stretches of each, however often channels are renamed and faults come and go', () => {
		const book = new FindingBook();
		const fault = findFault('button-floating')!;
		const raised = (from: number) => ({state: 'raised', sign: {from, summary: '', evidence: {}}, margin: 2}) as const;
		const refused = {state: 'refused', sign: null, margin: 1} as const;
		for (let button = 0; button < 3000; button++) book.note(fault, `button-${button}`, button, raised(button), button);
		for (let time = 1; time < 3000; time++) {
			book.note(fault, 'button-7', 7, refused, 5000 + 10 * time);
			book.note(fault, 'button-7', 7, raised(5005 + 10 * time), 5005 + 10 * time);
		}

		expect(book.list().length).toBe(1000);
		const spans = book.list().find(({channel}) => channel === 'button-7')!.spans;
		expect(spans.length).toBe(1000);
		// The last stretch stands for all that came after it.
		expect(spans.at(-1)![1]).toBeNull();
		expect(book.isOpenOn(fault.code, 'button-7')).toBe(true);
	});
});
