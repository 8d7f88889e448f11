import {readFileSync} from 'node:fs';
import fc from 'fast-check';
import {describe, expect, it} from 'vitest';
import {makePlan} from '../../source/plan/make-plan.ts';
import {type ParsedSheet, parseSheet, sheetFromJson} from '../../source/sheet/parse-sheet.ts';
import {sheetSchema, topKeys} from '../../source/sheet/sheet-schema.ts';
import {writeSheet} from '../../source/sheet/write-sheet.ts';
import {inheritedNames, oddNumbers} from './hostile-streams.ts';
import {mutate} from './mutate.ts';
import {growth} from './work.ts';

const original = readFileSync(new URL('../../docs/examples/fox-left.toml', import.meta.url));

/** A sheet, or problems with lines; never both, never a throw; what parses can be planned and written again. */
function expectAnswer(text: string): ParsedSheet {
	const parsed = parseSheet(text);
	expect(parsed.sheet === undefined).toBe(parsed.problems.length > 0);
	for (const {line, message} of parsed.problems) {
		expect(line).toBeGreaterThanOrEqual(0);
		expect(message.length).toBeLessThan(1000);
		expect(message).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069\ud800-\udfff]/u);
	}

	if (parsed.sheet) {
		makePlan(parsed.sheet);
		const strip = (sheet: unknown): unknown =>
			JSON.parse(JSON.stringify(sheet, (key, value: unknown) => (key === 'line' ? undefined : value)));
		expect(strip(parseSheet(writeSheet(parsed.sheet)).sheet)).toEqual(strip(parsed.sheet));
	}

	return parsed;
}

const values = [
	...oddNumbers,
	'1979-05-27T07:32:00Z',
	'07:32:00',
	'true',
	'[]',
	'{}',
	'[[1],[2]]',
	'"\\u009b"',
	'"\\u202e"',
	'"\u0085"',
	"'''a'''",
	'"""\n"""',
	'{a={b={c=1}}}',
	'inf',
	'+nan',
	'0b101',
	'0o7',
	'"\\ud800"',
	'99999999999999999999',
	'"thumb"',
	'512',
];
const keys = [
	...Object.keys(topKeys),
	...Object.keys(sheetSchema),
	...Object.values(sheetSchema).flatMap(rule => Object.keys(rule.keys)),
	...inheritedNames,
	'a.b.c',
	'"a\\u001bb"',
	"'x'",
	'"\u202e"',
];
const line = fc.oneof(
	fc.tuple(fc.constantFrom(...keys), fc.constantFrom(...values)).map(([key, value]) => `${key} = ${value}`),
	fc.constantFrom(...keys).map(key => `[${key}]`),
	fc.constantFrom(...keys, 'channel', 'channel').map(key => `[[${key}]]`),
	fc.constantFrom('# \u001b', '', '\r', '\u0000', '= 1', ']', '"""', "'''", '\uFEFF'),
);

describe('reading sheets', () => {
	it('answers with a sheet or with problems, whatever lines are put together', () => {
		fc.assert(
			fc.property(fc.array(line, {maxLength: 25}), lines => void expectAnswer(lines.join('\n'))),
			{seed: 29, numRuns: 600},
		);
	});

	it('answers with a sheet or with problems, whatever was done to a real one', () => {
		for (let seed = 0; seed < 300; seed++) expectAnswer(mutate(original, seed, 1 + (seed % 6)).toString('utf8'));
	});

	it('answers with a sheet or with problems to any JSON in a recording’s header', () => {
		fc.assert(
			fc.property(
				fc.oneof(
					fc.jsonValue(),
					fc.dictionary(fc.constantFrom('name', 'channels', 'board', 'link', ...inheritedNames), fc.jsonValue()),
				),
				json => {
					const parsed = sheetFromJson(json);
					expect(parsed.sheet === undefined).toBe(parsed.problems.length > 0);
				},
			),
			{seed: 31, numRuns: 500},
		);
		expect(Object.prototype).toEqual({});
	});

	// Found by fuzzing: the parser calls itself for each bracket, and makes a text of all its characters in one call.
	it.each([
		['arrays', `note = ${'['.repeat(100_000)}${']'.repeat(100_000)}`],
		['tables', `note = ${'{a='.repeat(50_000)}1${'}'.repeat(50_000)}`],
		['a text', `note = "${'\\u0041'.repeat(150_000)}"`],
	])('says that %s without measure are no sheet', (_name, text) => {
		expect(parseSheet(text).problems).toEqual([
			{line: 1, message: 'brackets nested deeper, or a text longer, than in any sheet; see docs/sheet.md.'},
		]);
	});

	it('reads giant sheets of any kind in linear time', async () => {
		const shapes: Readonly<Record<string, (count: number) => string>> = {
			'an array': count => `note = [${'1,'.repeat(count)}]`,
			tables: count => Array.from({length: count}, (_, index) => `[t${index}]\n`).join(''),
			channels: count => '[[channel]]\nname="-"\n'.repeat(count),
			'a dotted key': count => `[${'a.'.repeat(count)}a]\nx=1`,
			keys: count => Array.from({length: count}, (_, index) => `k${index} = 1\n`).join(''),
			'the same key': count => 'a = 1\n'.repeat(count),
			escapes: count => `name = "${'\\"'.repeat(count)}"`,
		};
		for (const [name, make] of Object.entries(shapes)) {
			const [small, large] = [make(600), make(4800)] as const;
			// 8 if linear, 64 if quadratic.
			expect(
				await growth(
					() => parseSheet(small),
					() => parseSheet(large),
				),
				name,
			).toBeLessThan(25);
		}
	});

	it('knows inherited names for unknown keys', () => {
		for (const name of inheritedNames) {
			expect(expectAnswer(`${name} = 1`).problems[0]?.message).toContain(`unknown key "${name}"`);
			expect(expectAnswer(`[board]\n${name} = 1`).problems[0]?.message).toContain(`unknown key "${name}"`);
			expect(expectAnswer(`[${name}]\nx = 1`).problems[0]?.message).toContain(`unknown table "${name}"`);
		}
	});
});
