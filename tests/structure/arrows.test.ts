import {readdirSync, readFileSync} from 'node:fs';
import {dirname, join, normalize} from 'node:path';
import ts from 'typescript';
import {describe, expect, test} from 'vitest';

const root = new URL('../../', import.meta.url).pathname;

/** Where running begins: the program, and what `source/build.mjs` runs to write the manual page. */
const entries = ['source/cli.ts', ...entryPoints('source/build.mjs')];

/**
 * The core, from below: a folder may import from itself and from those on lower steps. `math` stands at the bottom, so that log
 * stages, the simulator and the planner reach a mean or a median without importing features.
 */
const steps = [['math', 'stream', 'text'], ['framing'], ['features'], ['faults'], ['session']];

/** Imports nothing itself, and may be thrown anywhere. */
const anywhere = 'source/cannot-error.ts';

/** What no import of the core may be: it knows of no file, port, terminal or screen. */
const edges = /^(?:node:|serialport$|ink$|react)/;

/** The wall clock, and what waits for it. */
const clocks = /\b(?:Date\.now|performance\.now|hrtime|setTimeout|setInterval|setImmediate)\b|\bnew Date\(\)/g;

/** Who may import from a folder at the top, besides the folder itself. */
const tops: Readonly<Record<string, readonly string[]>> = {
	commands: ['command-line'],
	dashboard: ['commands'],
};

/** Against the arrows for now, each with the reason. To be mended, never added to. */
const exceptions = {
	'source/session/run-session.ts reads setInterval':
		'a live session is told that time passes, so that silence is noticed; the source should tell it',
	'source/session/run-session.ts reads setTimeout': 'a live session stops when its time is up; the source should end',
};

const modules = new Map(
	readdirSync(join(root, 'source'), {recursive: true, encoding: 'utf8'})
		.map(name => `source/${name.replaceAll('\\', '/')}`)
		.filter(name => /(?<!\.d)\.tsx?$/.test(name))
		.map(name => [name, readFileSync(join(root, name), 'utf8')]),
);

/** What each module imports, types and imports at run time included: modules of ours by path, packages by name. */
const imports = new Map(
	[...modules].map(([name, text]) => [
		name,
		ts
			.preProcessFile(text, true, true)
			.importedFiles.map(({fileName}) =>
				fileName.startsWith('.') ? normalize(join(dirname(name), fileName)).replaceAll('\\', '/') : fileName,
			),
	]),
);

describe('source/', () => {
	test('points its arrows one way: session to faults to features to framing to stream, text and math', () => {
		const against: string[] = [];
		for (const [name, targets] of imports) {
			const from = stepOf(name);
			for (const target of targets) {
				if (target === anywhere) continue;
				const isOurs = target.startsWith('source/');
				const isWrong =
					from >= 0
						? isOurs
							? folderOf(target) !== folderOf(name) && !(stepOf(target) >= 0 && stepOf(target) < from)
							: edges.test(target)
						: !mayImportTop(name, target);
				if (isWrong) against.push(`${name} imports ${target}`);
			}

			if (from < 0 || modules.get(name)!.search(clocks) < 0) continue;
			// What is only spoken of is not read.
			const code = ts.transpileModule(modules.get(name)!, {
				compilerOptions: {removeComments: true, target: ts.ScriptTarget.ES2022},
			}).outputText;
			for (const [clock] of code.matchAll(clocks)) against.push(`${name} reads ${clock}`);
		}

		expect([...new Set(against)].sort()).toEqual(Object.keys(exceptions).sort());
	});

	test('holds no module that the program never reaches', () => {
		const reached = new Set<string>();
		const reach = (name: string): void => {
			if (reached.has(name) || !imports.has(name)) return;
			reached.add(name);
			for (const target of imports.get(name)!) reach(target);
		};

		for (const entry of entries) reach(entry);
		expect(entries.every(entry => modules.has(entry))).toBe(true);
		expect([...modules.keys()].filter(name => !reached.has(name))).toEqual([]);
	});

	test('imports nothing that is not there, and nothing of the tests', () => {
		const missing = [...imports].flatMap(([name, targets]) =>
			targets
				.filter(target => /^(?:source|tests)\//.test(target) && !modules.has(target))
				.map(target => `${name} imports ${target}`),
		);
		expect(missing).toEqual([]);
	});
});

/** `framing` of `source/framing/layout.ts`; empty for what lies in source/ itself. */
function folderOf(name: string): string {
	return name.split('/').slice(1, -1)[0] ?? '';
}

/** Which step of the core a module stands on, from below; -1 for what is not of the core. */
function stepOf(name: string): number {
	return steps.findIndex(folders => folders.includes(folderOf(name)));
}

function mayImportTop(name: string, target: string): boolean {
	const allowed = target.startsWith('source/') ? tops[folderOf(target)] : undefined;
	return allowed === undefined || folderOf(name) === folderOf(target) || allowed.includes(folderOf(name));
}

/** The entry points that a build script names. */
function entryPoints(path: string): string[] {
	const script = readFileSync(join(root, path), 'utf8');
	return [...script.matchAll(/entryPoints: \[([^\]]*)\]/g)].flatMap(([, names]) =>
		[...names.matchAll(/'([^']+)'/g)].map(([, name]) => name),
	);
}
