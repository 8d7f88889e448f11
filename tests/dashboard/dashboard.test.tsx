import {render} from 'ink-testing-library';
import stripAnsi from 'strip-ansi';
import {describe, expect, it} from 'vitest';
import {type ScreenInput, screenPart} from '../../source/dashboard/screen-part.ts';
import {initialViewState} from '../../source/dashboard/view-state.ts';
import {Panels} from '../../source/screen/Panels.tsx';
import {addedUp, pages, screenInput, trend} from './added-up.ts';
import {asciiLook, faulty, healthy, makeFinding, makePicture} from './sample-picture.ts';

function linesOf(fields: Partial<ScreenInput>): string[] {
	const props = screenInput(fields);
	const part = screenPart(props);
	const {lastFrame, unmount} = render(<Panels part={part} look={props.look} />);
	const frame = stripAnsi(lastFrame() ?? '');
	unmount();
	return frame.split('\n');
}

describe('the dashboard’s screen', () => {
	it('is laid out by Ink as its rectangles add up', () => {
		for (const page of ['overview', 'findings'] as const) {
			const props = {
				gloves: [makePicture(faulty, {trend})],
				view: {...initialViewState({mode: 'live', gloves: 1}), page},
				columns: 140,
				rows: 45,
			};
			const trimmed = (lines: readonly string[]) => lines.map(line => line.trimEnd());
			expect(trimmed(linesOf(props))).toEqual(trimmed(addedUp(screenPart(screenInput(props)))));
		}
	});

	it('shows at 80 x 24 what a person at the bench needs', () => {
		const screen = linesOf({gloves: [makePicture(faulty, {trend})]}).join('\n');
		for (const name of ['thumb', 'index', 'middle', 'ring', 'little', 'stick', 'buttons']) {
			expect(screen).toContain(name);
		}

		expect(screen).toMatch(/100\/s {2}bad 0 {2}jitter \S+ ms {2}115200 Bd {2}load \d+ %/);
		expect(screen).toMatch(/DO FIRST {2}ring: floating-input, .* since/);
		expect(screen).toContain('Volts from the input pin');
		expect(screen).toContain('── ring');
		expect(screen).toContain('q quit');
	});

	it('moves no channel’s row when a finding comes', () => {
		const rowOf = (lines: readonly string[]) => lines.findIndex(line => /^.. *little /.test(line));
		const before = linesOf({gloves: [makePicture({...healthy, findings: []})]});
		const findings = [makeFinding({flaggedAt: healthy.t}), makeFinding({channel: 'index', flaggedAt: healthy.t})];
		const changed = linesOf({gloves: [makePicture({...healthy, findings})]});
		expect(rowOf(changed)).toBe(rowOf(before));
		expect(changed.join('\n')).toContain('NEW failure (+1 new)');
	});

	it('shows by its end that an alert goes on where the window is too narrow for it', () => {
		const summary = 'ring jumped 23 times by up to 81.4 % FS and came back within 30 ms each time.';
		const gloves = [makePicture({...healthy, findings: [makeFinding({flaggedAt: healthy.t, summary})]})];
		const alert = linesOf({gloves})[1];
		expect(alert).toHaveLength(79);
		expect(alert).toMatch(/^ NEW failure: .*…$/);
		expect(linesOf({gloves, columns: 200})[1]).toContain('each time.');
	});

	it('says below 60 x 16 that it needs more', () => {
		const screen = linesOf({columns: 59, rows: 16}).join('\n');
		expect(screen).toContain('60 x 16');
		expect(screen).toContain('59 x 16');
	});

	it('draws with ASCII only where asked to, whatever findings and marks say', () => {
		const marks = [{t: 4, mark: 'reel 糸, 10 kΩ'}];
		const summary = 'ring reads 3 ±1 % FS — an open wire’s drift…';
		for (const page of pages) {
			const view = {...initialViewState({mode: 'live', gloves: 1}), page};
			const gloves = [makePicture({...faulty, marks, findings: [makeFinding({summary})]}, {trend})];
			const lines = linesOf({gloves, view, look: asciiLook, columns: 140, rows: 45});
			for (const line of lines) expect(line).toMatch(/^[ -~]*$/);
			if (page === 'findings') expect(lines.join('\n')).toContain("ring reads 3 +/-1 % FS - an open wire's drift...");
			if (page === 'link') expect(lines.join('\n')).toContain('reel ?, 10 kohm');
		}
	});

	it('shows what is being typed as a mark in the place of the keys', () => {
		const view = {...initialViewState({mode: 'live', gloves: 1}), entry: {what: 'mark' as const, text: 'reel 糸'}};
		expect(linesOf({view}).at(-1)).toMatch(/^ mark: reel 糸_ {3}enter keeps it, esc drops it/);
	});

	it('says what a key came to in the place of the keys', () => {
		const gloves = [makePicture(faulty, {notice: 'Recording to glove\u0007.gbrec'})];
		expect(linesOf({gloves}).at(-1)).toBe(' Recording to glove\\x07.gbrec');
	});

	it('shows shortest press and bounces with the buttons on the stick’s page', () => {
		const view = {...initialViewState({mode: 'live', gloves: 1}), page: 'stick' as const};
		for (const [columns, rows] of [
			[60, 16],
			[80, 24],
		] as const) {
			const screen = linesOf({view, columns, rows}).join('\n');
			expect(screen).toMatch(/buttons +presses +shortest +bounced/);
			expect(screen).toMatch(/button-1 .* \d+ ms +\d/);
		}
	});

	it('shows a recording in progress, and one that failed', () => {
		const going = makePicture(healthy, {recording: {path: 'x.gbrec', bytes: 1234, error: null}});
		expect(linesOf({gloves: [going]})[0]).toContain('● REC 1.2 kB');
		const failed = makePicture(healthy, {recording: {path: 'x.gbrec', bytes: 1234, error: 'disk full'}});
		expect(linesOf({gloves: [failed]})[0]).toContain('NOT RECORDING');
	});

	it('shows hostile names and lines escaped', () => {
		const hostile = {...healthy, link: {...healthy.link, lastBadLine: '\\x1b[2J', badLines: 1}};
		const gloves = [makePicture({...hostile, marks: [{t: 1, mark: '\u001B]0;x\u0007'}]}, {name: '\u001B[31mx'})];
		const view = {...initialViewState({mode: 'live', gloves: 1}), page: 'link' as const};
		const screen = linesOf({gloves, view}).join('\n');
		expect(screen).toContain('\\x1b[31mx');
		expect(screen).toContain('last bad \\x1b[2J');
		expect(screen).toContain('\\x1b]0;x\\x07');
	});

	it('shows the catalogue’s causes with the selected finding', () => {
		const view = {...initialViewState({mode: 'live', gloves: 1}), page: 'findings' as const};
		const freezeFrame = {times: [11.5, 12, 12.5], series: [{name: 'ring', values: [400, 500, 600]}]};
		const screen = linesOf({gloves: [makePicture(faulty, {freezeFrame})], view, columns: 140, rows: 45}).join('\n');
		expect(screen).toContain('likely causes, in order');
		expect(screen).toContain('the second it began, 0:11.50–0:12.50');
	});
});
