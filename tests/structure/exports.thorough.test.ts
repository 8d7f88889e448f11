import {readdirSync, readFileSync} from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import {expect, it} from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
const filesOf = (folder: string): string[] =>
	readdirSync(path.join(root, folder), {recursive: true, encoding: 'utf8'})
		.filter(name => /\.tsx?$/.test(name) && !name.endsWith('.d.ts'))
		.map(name => path.join(folder, name));

/** What others than the program's own files load: entries of the build, and the core for other programs. */
const entries = [
	'source/cli.ts',
	'source/load.ts',
	'source/main.ts',
	'source/command-line/check-main.ts',
	'source/session/index.ts',
];

type Names = {readonly exported: Set<string>; readonly imported: Set<string>; readonly whole: Set<string>};

/** The names that a file exports by declaring them, and those that it takes from others. */
function namesOf(file: string): Names {
	const [exported, imported, whole] = [new Set<string>(), new Set<string>(), new Set<string>()];
	const tree = ts.createSourceFile(file, readFileSync(path.join(root, file), 'utf8'), ts.ScriptTarget.Latest, true);
	const take = (node: ts.Node): void => {
		if (ts.isImportSpecifier(node) || ts.isExportSpecifier(node)) imported.add((node.propertyName ?? node.name).text);
		// A module taken whole, as documents' worked examples are.
		if (ts.isNamespaceImport(node))
			whole.add(path.basename((node.parent.parent as ts.ImportDeclaration).moduleSpecifier.getText().slice(1, -1)));
		// `import * as x` and `(await import(…)).name` or `const {name} = await import(…)`: names that are spelled somewhere.
		if (ts.isPropertyAccessExpression(node)) imported.add(node.name.text);
		if (ts.isBindingElement(node)) imported.add((node.propertyName ?? node.name).getText());
		if (ts.isImportTypeNode(node) && node.qualifier) imported.add(node.qualifier.getText());
		if (ts.isStatement(node) && ts.canHaveModifiers(node)) {
			const isExported = ts.getModifiers(node)?.some(({kind}) => kind === ts.SyntaxKind.ExportKeyword);
			if (isExported && ts.isVariableStatement(node))
				for (const {name} of node.declarationList.declarations) exported.add(name.getText());
			else if (isExported && 'name' in node) exported.add((node.name as ts.Identifier).text);
		}
		ts.forEachChild(node, take);
	};
	take(tree);
	return {exported, imported, whole};
}

it('exports nothing that no other file takes', () => {
	const source = new Map(filesOf('source').map(file => [file, namesOf(file)]));
	const elsewhere = filesOf('tests').map(namesOf);
	const whole = new Set(elsewhere.flatMap(names => [...names.whole]));
	const inTests = new Set(elsewhere.flatMap(({imported}) => [...imported]));
	/** How many files of the program take a name. */
	const takers = new Map<string, number>();
	for (const {imported} of source.values()) for (const name of imported) takers.set(name, (takers.get(name) ?? 0) + 1);
	const unused = [...source].flatMap(([file, {exported, imported}]) => {
		if (entries.includes(file) || whole.has(path.basename(file))) return [];
		const isTaken = (name: string) => inTests.has(name) || (takers.get(name) ?? 0) > (imported.has(name) ? 1 : 0);
		return [...exported].filter(name => !isTaken(name)).map(name => `${file}: ${name}`);
	});
	expect(unused).toEqual([]);
});
