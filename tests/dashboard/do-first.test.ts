import {readdirSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {doFirst, doFirstHeights, doFirstParts, fitDoFirst} from '../../source/dashboard/do-first.ts';
import {listedFindings} from '../../source/dashboard/finding-rows.ts';
import {type ScreenInput, screenPart} from '../../source/dashboard/screen-part.ts';
import {initialViewState, type Page} from '../../source/dashboard/view-state.ts';
import {findFault} from '../../source/faults/registry.ts';
import {rowCells} from '../../source/screen/cells.ts';
import {panelsOf} from '../../source/screen/part.ts';
import {rowText} from '../../source/screen/rows.ts';
import type {Finding, Snapshot} from '../../source/session/snapshot.ts';
import {glyphs, healthy, makeFinding, makePicture, plainLook} from './sample-picture.ts';

const cause = makeFinding({code: 'supply-ripple', channel: null, status: 'out-of-spec', first: true});
const follower = makeFinding({code: 'excess-noise', channel: 'ring', status: 'out-of-spec'});
const grave = makeFinding({code: 'stuck-mid', channel: 'little'});
const over = makeFinding({code: 'stall', channel: null, status: 'failure', to: 20});
const snapshot: Snapshot = {...healthy, findings: [over, follower, grave, cause]};

describe('DO FIRST', () => {
	it('is the one root cause; open comes before over, failure before out-of-spec', () => {
		const {first, rest} = doFirst(snapshot);
		expect(first?.code).toBe('supply-ripple');
		expect(rest.map(({code}) => code)).toEqual(['stuck-mid', 'excess-noise', 'stall']);
	});

	it('is nothing where all is over', () => {
		const {first} = doFirst({...healthy, findings: [makeFinding({first: true, to: 20})]});
		expect(first).toBeUndefined();
	});

	it('has its advice whole however little room there is, and what else fits whole or not at all', () => {
		const advice = [
			'Measure at the one end, then at the other end of it, and write down both — the same; else: that wire',
			'Then this.',
		];
		const parts = doFirstParts(doFirst({...healthy, findings: [{...cause, advice}]}), findFault, 79, glyphs)!;
		const {least, most} = doFirstHeights(parts);
		for (let height = least; height <= most; height++) {
			const rows = fitDoFirst(parts, height).map(rowText);
			expect(rows.length).toBeLessThanOrEqual(height);
			expect(rows.join(' ').replace(/\s+/g, ' ')).toContain(advice[0]);
			expect(rows.at(-1)).toBe(' after that: nothing');
		}
		expect(fitDoFirst(parts, most).map(rowText).join('\n')).toContain('2. Then this.');
	});
});

/** The text of a screen of 80 × 24, blanks joined. */
function screenOf(findings: Snapshot, page: Page, fields: Partial<ScreenInput['view']> = {}): string {
	const part = screenPart({
		gloves: [makePicture(findings)],
		view: {...initialViewState({mode: 'live', gloves: 1}), page, ...fields},
		columns: 80,
		rows: 24,
		look: plainLook,
		catalogue: findFault,
	});
	const lines = panelsOf(part).flatMap(({rows, width, height}) =>
		rows.slice(0, height).map(row =>
			rowCells(row, width, plainLook)
				.map(({text}) => text)
				.join(''),
		),
	);
	return lines.join(' ').replace(/\s+/g, ' ');
}

/** What every sample of the catalogue comes to; those of a bring-up alone are told by its report. */
const codes = readdirSync(new URL('../../recordings', import.meta.url))
	.filter(name => name.endsWith('.gbrec') && findFault(name.replace('.gbrec', '')) !== undefined)
	.map(name => name.replace('.gbrec', ''));

describe('at 80 × 24', () => {
	it.each(codes)(
		'the advice of %s stands whole: what to do first on the overview, all of it with the findings',
		code => {
			const fault = findFault(code)!;
			const advice = fault.measurements.map(({measure, expect: reads}) => `${measure} — ${reads}`);
			const channel =
				fault.scope === 'link'
					? null
					: fault.scope === 'button'
						? 'button-1'
						: fault.scope === 'stick'
							? 'stick-x'
							: 'ring';
			const cautions = fault.caution === undefined ? [] : [fault.caution];
			const finding: Finding = makeFinding({code, channel, advice, cautions, first: true, flaggedAt: 0, from: 0});
			const found = {...healthy, t: 60, findings: [finding, {...over, flaggedAt: 0}]};
			for (const page of ['overview', 'bench'] as const) {
				const screen = screenOf(found, page);
				expect(screen, page).toContain(advice[0]);
				expect(screen, page).toContain('DO FIRST');
				expect(screen, page).toContain('after that (1)');
			}
			const listed = screenOf(found, 'findings');
			for (const step of advice) expect(listed).toContain(step);
			expect(listedFindings(found)[0].code).toBe(code);
		},
	);
});
