import {describe, expect, it} from 'vitest';
import {listedFindings} from '../../source/dashboard/finding-rows.ts';
import {type ScreenInput, screenPart} from '../../source/dashboard/screen-part.ts';
import {changed} from '../../source/dashboard/steady-snapshot.ts';
import {initialViewState, type Page} from '../../source/dashboard/view-state.ts';
import {faults, findFault} from '../../source/faults/registry.ts';
import {rowCells} from '../../source/screen/cells.ts';
import {panelsOf} from '../../source/screen/part.ts';
import {runSession} from '../../source/session/run-session.ts';
import type {Snapshot} from '../../source/session/snapshot.ts';
import {openSample} from '../gloves/check-sample.ts';
import {makePicture, plainLook} from './sample-picture.ts';

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

/** Every check that a stream can show; those of a bring-up alone are told by its report. */
const codes = faults.filter(({ways}) => ways.length > 0).map(({code}) => code);

/** What a sample comes to at the moment its finding stands first and open, else at its end. */
async function whereFirst(code: string): Promise<Snapshot> {
	const {source, session} = await openSample(code);
	let found: Snapshot | undefined;
	const stop = new AbortController();
	const {snapshot} = await runSession(source, {
		session,
		signal: stop.signal,
		watch(running) {
			if (found !== undefined) return;
			const now = running.snapshot();
			if (!now.findings.some(one => one.code === code && one.first && one.to === null)) return;
			found = changed(now, {checks: now.checks});
			stop.abort();
		},
	});
	return found ?? snapshot;
}

describe('at 80 × 24', () => {
	it.each(codes)(
		'the advice of %s stands whole as its sample is replayed: what to do first on the overview, all of it with the findings',
		async code => {
			const found = await whereFirst(code);
			const finding = found.findings.find(one => one.code === code)!;
			expect(finding.advice.length).toBeGreaterThan(0);
			expect(listedFindings(found)[0].code).toBe(code);
			const listed = screenOf(found, 'findings');
			for (const step of finding.advice) expect(listed).toContain(step);
			if (finding.to !== null) return;
			for (const page of ['overview', 'bench'] as const) {
				const screen = screenOf(found, page);
				expect(screen, page).toContain('DO FIRST');
				expect(screen, page).toContain(finding.advice[0]);
			}
		},
	);
});
