import {existsSync} from 'node:fs';
import {fileURLToPath} from 'node:url';
import {afterAll, beforeAll, describe, inject, test} from 'vitest';
import type {Limit} from '../../source/faults/gates/gate.ts';
import {faults} from '../../source/faults/registry.ts';

// What `npm run limits` has vitest run: the data tests of each check once as they are, then once for each moved limit, all
// in one process. A test file is loaded anew each time by a query in its name; source/ is loaded once.

declare module 'vitest' {
	interface ProvidedContext {
		/** The checks that are asked for, or single limits of them as `code/way/limit`; all where empty. */
		codes: string[];
	}
}

/** Checks whose data tests are in files of another name. */
const filesOf: Readonly<Record<string, readonly string[]>> = {
	'stuck-low': ['stuck'],
	'stuck-mid': ['stuck'],
	'stuck-high': ['stuck'],
	'floating-input': ['floating-input', 'floating-input-limits'],
};

/** Units of which half a one means something; all others count whole things. */
const measured =
	/^(?:%|s\b|seconds\b|ms\b|of\b|frames\/s|times\b|standard|rest noises|rank|correlation|least|median|counts\b|as the)/;

function movesOf({raise, unit}: Limit): number[] {
	if (!Number.isFinite(raise) || raise === 0) return [];
	if (!Number.isInteger(raise) || measured.test(unit)) return [raise * 0.5, raise * 1.5];
	// By half as far as whole things allow, at the least by one.
	return [Math.min(raise - 1, Math.ceil(raise / 2)), Math.max(raise + 1, Math.floor(raise * 1.5))];
}

/** Each limit once, with all checks that use it, what it is called in each, and the place where it is used first. */
const places = new Map<Limit, {readonly code: string; readonly way: string; readonly limit: string}>();
const users = new Map<Limit, string[]>();
const names = new Map<Limit, string[]>();
for (const {code, ways} of faults)
	for (const way of ways)
		for (const [name, limit] of Object.entries(way.limits)) {
			if (!places.has(limit)) places.set(limit, {code, way: way.name, limit: name});
			users.set(limit, [...(users.get(limit) ?? []), code]);
			names.set(limit, [...(names.get(limit) ?? []), code, `${code}/${way.name}/${name}`]);
		}

function testsOf(codes: readonly string[]): string[] {
	const names = new Set(codes.flatMap(code => filesOf[code] ?? [code]));
	const files = [...names].map(name => fileURLToPath(new URL(`../faults/${name}.test.ts`, import.meta.url)));
	return files.filter(file => existsSync(file));
}

const asked = inject('codes');
const known = new Set([...names.values()].flat());
for (const name of asked) if (!known.has(name)) throw new Error(`${name}: no check and no limit is called so`);
const seen = new Set<string>();
for (const [limit, place] of places) {
	const codes = users.get(limit) ?? [];
	const isAsked = names.get(limit)?.some(name => asked.includes(name));
	if (asked.length > 0 && !isAsked) continue;
	const files = testsOf(codes);
	for (const file of files) {
		if (seen.has(file)) continue;
		seen.add(file);
		describe(JSON.stringify({files: file}), async () => {
			await import(/* @vite-ignore */ file);
		});
	}
	const {raise} = limit;
	for (const to of movesOf(limit))
		describe(JSON.stringify({...place, raise, to}), async () => {
			const move = (value: number): void => {
				(limit as {raise: number}).raise = value;
			};
			beforeAll(() => move(to));
			afterAll(() => move(raise));
			// Some tables are worked out while they are loaded.
			move(to);
			// The name of the limit's place keeps what is loaded apart; the ending tells the loader that it is TypeScript.
			for (const file of files)
				await import(/* @vite-ignore */ `${file}?${place.code}-${place.way}-${place.limit}-${to}.ts`);
			move(raise);
			if (files.length === 0) test('has no data tests', () => undefined);
		});
}
