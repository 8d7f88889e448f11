// Writes the lists of all findings and of all models of faults from the files that hold them: `npm run lists`, and before
// every build. With --check nothing is written, and the status is 1 where a list would be another one.
import {readdirSync, readFileSync, writeFileSync} from 'node:fs';
import {join} from 'node:path';

const head = '// Written by source/write-lists.mjs from the files beside it.\n';

/** What the files of a folder export under a pattern, whose first group is the name. */
function exportsOf(folder, pattern) {
	return readdirSync(folder)
		.filter(file => file.endsWith('.ts'))
		.sort()
		.flatMap(file => {
			const text = readFileSync(join(folder, file), 'utf8');
			return [...text.matchAll(pattern)].map(match => ({file, text: text.slice(match.index), match}));
		});
}

/** One import a file, names in order, as the formatter has them. */
function imports(entries) {
	const byFile = new Map();
	for (const {file, name} of entries) byFile.set(file, [...(byFile.get(file) ?? []), name].sort());
	return [...byFile].map(([file, names]) => `import {${names.join(', ')}} from './${file}';`);
}

/**
 * Findings in the order of the documentation: each says which one it comes after. Of several after the same one those come
 * first that fewest are listed after, so that a new one takes its place without a change to the one that stood there.
 */
function inOrder(found) {
	const from = one => [one, ...after(one.code)];
	const after = code =>
		found
			.filter(one => one.listedAfter === code)
			.map(from)
			.sort((a, b) => a.length - b.length)
			.flat();
	const list = after(null);
	const left = found.filter(one => !list.includes(one)).map(({code, listedAfter}) => `${code} (after ${listedAfter})`);
	if (left.length > 0) throw new Error(`listedAfter names nothing that is listed: ${left.join(', ')}.`);
	return list;
}

function findings(folder) {
	const found = exportsOf(folder, /^export const (\w+): Fault<'([a-z-]+)'> = \{/gm).map(({file, text, match}) => {
		const said = /^\tlistedAfter: (?:'([a-z-]+)'|null),$/m.exec(text);
		if (said === null) throw new Error(`${file} does not say what ${match[2]} is listed after.`);
		return {file, name: match[1], code: match[2], listedAfter: said[1] ?? null};
	});
	return [
		`${head}${imports([...found, {file: 'fault.ts', name: 'type Fault'}].sort((a, b) => (a.file < b.file ? -1 : 1))).join('\n')}`,
		'',
		'/** Every finding there is, in the order of the documentation. */',
		`export const everyFault = [\n${inOrder(found)
			.map(({name}) => `\t${name},\n`)
			.join('')}] as const satisfies readonly Fault[];`,
		'',
	]
		.join('\n')
		.replace('import {type Fault}', 'import type {Fault}');
}

function models(folder) {
	const found = exportsOf(folder, /^export const (\w+): FaultModel = \{/gm).map(({file, match}) => ({
		file,
		name: match[1],
	}));
	return [
		`${head}import type {FaultModel} from '../fault-model.ts';`,
		...imports(found),
		'',
		'/** Every fault that can be brought about. */',
		`export const everyModel: readonly FaultModel[] = [\n${found.map(({name}) => `\t${name},\n`).join('')}];`,
		'',
	].join('\n');
}

const source = import.meta.dirname;
const lists = [
	[join(source, 'faults/every-fault.ts'), findings(join(source, 'faults'))],
	[join(source, 'simulator/faults/every-model.ts'), models(join(source, 'simulator/faults'))],
];
for (const [path, text] of lists) {
	let before = '';
	try {
		before = readFileSync(path, 'utf8');
	} catch (error) {
		if (error.code !== 'ENOENT') throw error;
	}
	if (before === text) continue;
	if (process.argv.includes('--check')) {
		process.stderr.write(`${path} is not what the files beside it make: npm run lists\n`);
		process.exitCode = 1;
	} else {
		writeFileSync(path, text);
	}
}
