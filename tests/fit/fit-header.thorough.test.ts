import {execFileSync, spawnSync} from 'node:child_process';
import {mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterAll, describe, expect, it} from 'vitest';
import {fitSettings} from '../../source/fit/fit.ts';
import {fitHeader} from '../../source/fit/fit-header.ts';
import type {FitResult} from '../../source/fit/fit-result.ts';
import {Random} from '../../source/simulator/random.ts';
import {drawGlove} from '../../source/simulator/random-glove.ts';
import {simulate} from '../../source/simulator/simulate.ts';
import {declaredBy, gatherItems, simulation} from './simulated.ts';

const folder = mkdtempSync(join(tmpdir(), 'fit-'));
afterAll(() => rmSync(folder, {recursive: true}));

const results = new Map<string, FitResult>();

/** Fitted once for every kind of firmware. */
function fitted(firmware: 'raw' | 'percent'): FitResult {
	const known = results.get(firmware) ?? fitNew(firmware);
	results.set(firmware, known);
	return known;
}

function fitNew(firmware: 'raw' | 'percent'): FitResult {
	const glove = drawGlove(new Random(5), {stick: true, firmware, fingerCount: 5, board: 'avr'});
	const {items, truth} = simulate(simulation(5, glove, 'rest 2s, fist 5x, stick sides 1x'));
	const {session, gathered} = gatherItems(items, declaredBy(truth));
	return fitSettings(session, gathered);
}

const has = (compiler: string) => spawnSync(compiler, ['--version']).status === 0;

describe('C header', () => {
	const compilers = ['gcc', 'avr-gcc'].filter(has);
	if (compilers.length === 0) console.warn('No C compiler here: the header was not compiled.');

	for (const compiler of ['gcc', 'avr-gcc']) {
		for (const language of ['c', 'c++']) {
			it.skipIf(!compilers.includes(compiler)).each(['raw', 'percent'] as const)(
				`compiles with ${compiler} as ${language} without a warning, readings %s`,
				firmware => {
					const file = join(folder, `${firmware}-${language === 'c' ? 'c' : 'cpp'}.h`);
					writeFileSync(file, fitHeader(fitted(firmware), 'session.gbrec'));
					const {status, stderr} = spawnSync(
						compiler,
						['-fsyntax-only', '-Wall', '-Wextra', '-Werror', '-pedantic', '-x', language, file],
						{encoding: 'utf8'},
					);
					expect(stderr).toBe('');
					expect(status).toBe(0);
				},
			);
		}
	}

	it.skipIf(!has('gcc'))('maps readings to thousandths and smooths to the reading itself', () => {
		writeFileSync(join(folder, 'glove.h'), fitHeader(fitted('raw'), 'session.gbrec'));
		writeFileSync(
			join(folder, 'main.c'),
			`#include <stdio.h>
#include "glove.h"
int main(void) {
	int32_t state = 16 * 100, last = 0;
	for (int i = 0; i < 400; i++) last = glove_smooth(&state, 901, 2);
	printf("%d %d %d %d %d %ld\\n", glove_bending(100, 100, 600, 0), glove_bending(600, 100, 600, 0),
		glove_bending(350, 100, 600, 0), glove_bending(110, 100, 600, 1), glove_bending(5, 100, 600, 1), (long)last);
	return 0;
}
`,
		);
		execFileSync('gcc', ['-std=c99', '-o', join(folder, 'main'), join(folder, 'main.c')]);
		// Hand working: margin 10 of 500 at each end, so 110 … 590 are 0 … 1000.
		expect(execFileSync(join(folder, 'main'), {encoding: 'utf8'})).toBe('0 1000 500 1000 1000 901\n');
	});

	it.skipIf(!has('gcc')).each([null, 'mV'])('looks a bending up in a table of nine readings, in the unit %s', unit => {
		const result = {...fitted('raw'), unit};
		const table = [100, 110, 120, 130, 140, 240, 340, 440, 540];
		const fingers = result.fingers.map(finger => ({...finger, table}));
		writeFileSync(join(folder, 'table.h'), fitHeader({...result, fingers}, 'session.gbrec'));
		const isWhole = unit === null;
		writeFileSync(
			join(folder, 'table.c'),
			`#include <stdio.h>
#include "table.h"
int main(void) {
	static const ${isWhole ? 'int32_t' : 'float'} table[9] = GLOVE_INDEX_TABLE;
	for (int i = 0; i < 9; i++) printf("%.0f ", ${isWhole ? 1 : 1000} * (double)glove_bending_by_table(table[i], table, 0));
	printf("%.0f %.0f %.0f\\n", ${isWhole ? 1 : 1000} * (double)glove_bending_by_table(290, table, 0),
		${isWhole ? 1 : 1000} * (double)glove_bending_by_table(0, table, 1), ${isWhole ? 1 : 1000} * (double)glove_bending_by_table(999, table, 1));
	return 0;
}
`,
		);
		execFileSync('gcc', [
			'-std=c99',
			'-Wall',
			'-Wextra',
			'-Werror',
			'-o',
			join(folder, 'table'),
			join(folder, 'table.c'),
			'-lm',
		]);
		const found = execFileSync(join(folder, 'table'), {encoding: 'utf8'}).trim().split(' ').map(Number);
		// Hand working: eighths of the way, 2 % given away at each end: (125 i − 20) / 0.96; 290 is 5.5 eighths. Whole numbers lose
		// up to one thousandth at each of two divisions.
		const wanted = [...Array.from({length: 9}, (_, i) => (125 * i - 20) / 0.96), (687.5 - 20) / 0.96, 1000, 0];
		for (const [i, each] of wanted.entries())
			expect(Math.abs(found[i] - Math.min(1000, Math.max(0, each)))).toBeLessThanOrEqual(2.1);
	});

	// Fact sheet of radial rescaling, (m - d) / (1 - d): worked by hand for d = 0.1.
	it.skipIf(!has('gcc'))('takes a round dead zone out of the stick, and measures each half by its own end', () => {
		writeFileSync(join(folder, 'stick.h'), fitHeader(fitted('raw'), 'session.gbrec'));
		writeFileSync(
			join(folder, 'stick.c'),
			`#include <stdio.h>
#include "stick.h"
static void show(float x, float y) {
	glove_dead_zone(&x, &y, 0.1f);
	printf("%.6f %.6f\\n", (double)x, (double)y);
}
int main(void) {
	show(0.3f, 0.0f);
	show(0.3f, 0.4f);
	show(0.06f, 0.08f);
	printf("%.2f %.2f %.2f %.2f\\n", (double)glove_axis(500, 500, 100, 700), (double)glove_axis(300, 500, 100, 700),
		(double)glove_axis(600, 500, 100, 700), (double)glove_axis(900, 500, 100, 700));
	return 0;
}
`,
		);
		execFileSync('gcc', ['-std=c99', '-o', join(folder, 'stick'), join(folder, 'stick.c'), '-lm']);
		const lines = execFileSync(join(folder, 'stick'), {encoding: 'utf8'}).trim().split('\n');
		expect(lines[0]).toBe('0.222222 0.000000');
		const [x, y] = lines[1].split(' ').map(Number);
		expect(x).toBeCloseTo(0.2666667, 5);
		expect(y).toBeCloseTo(0.3555556, 5);
		expect(lines.slice(2)).toEqual(['0.000000 0.000000', '0.00 -0.50 0.50 1.00']);
	});

	it('names what was refused and why, in a comment that device text cannot end', () => {
		const result = fitted('raw');
		const text = fitHeader(
			{...result, refused: [{name: 'ring', reason: 'floating-input */ #error'}], stick: null},
			'a*/b\u001b.gbrec',
		);
		expect(text).toContain('Not given: ring. floating-input * / #error');
		expect(text).toContain('from a* /b/x1b.gbrec.');
		expect(text).not.toContain('GLOVE_STICK');
	});

	it('has every setting of the result under its documented name', () => {
		const result = fitted('raw');
		const text = fitHeader(result, 'session.gbrec');
		for (const {name, low, high, flip} of result.fingers) {
			const macro = `GLOVE_${name.toUpperCase()}`;
			expect(text).toContain(`#define ${macro}_LOW ${Math.round(low)}\n`);
			expect(text).toContain(`#define ${macro}_HIGH ${Math.round(high)}\n`);
			expect(text).toContain(`#define ${macro}_FLIP ${flip ? 1 : 0}\n`);
		}

		expect(text).toContain(`#define GLOVE_STICK_X_CENTRE ${Math.round(result.stick!.x.centre)}\n`);
		expect(text).toContain(`#define GLOVE_STICK_DEAD_ZONE ${Math.round(result.stick!.deadZone)}\n`);
	});
});
