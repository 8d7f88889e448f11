import {readdirSync, readFileSync} from 'node:fs';
import ts from 'typescript';
import {expect, test} from 'vitest';

const root = new URL('../../source/', import.meta.url).pathname;

/** What a checkpoint copies and puts back: the engine, from bytes to findings. */
const core = ['framing', 'features', 'faults', 'session'];

const files = core.flatMap(folder =>
	readdirSync(root + folder, {recursive: true, encoding: 'utf8'})
		.filter(name => name.endsWith('.ts'))
		.map(name => `${folder}/${name.replaceAll('\\', '/')}`),
);

const parsed = files.map(name => ({
	name,
	file: ts.createSourceFile(name, readFileSync(root + name, 'utf8'), ts.ScriptTarget.ES2022, true),
}));

test('the core has no variable of a module: its state can be copied and put back', () => {
	const found = parsed.flatMap(({name, file}) =>
		file.statements
			.filter(ts.isVariableStatement)
			.filter(({declarationList}) => (declarationList.flags & ts.NodeFlags.Const) === 0)
			.map(statement => `${name}: ${statement.getText(file).split('\n')[0]}`),
	);
	expect(files.length).toBeGreaterThan(100);
	expect(found).toEqual([]);
});

test('the core has no field that starts with #: what nobody can see nobody can copy', () => {
	const found: string[] = [];
	for (const {name, file} of parsed) {
		const visit = (node: ts.Node): void => {
			if (ts.isPrivateIdentifier(node)) found.push(`${name}: ${node.text}`);
			ts.forEachChild(node, visit);
		};
		visit(file);
	}
	expect([...new Set(found)]).toEqual([]);
});
