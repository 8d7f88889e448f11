import {readdirSync, readFileSync} from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import {expect, test} from 'vitest';
import {faults} from '../../source/faults/registry.ts';

// Check-values D5.1 and §7: every number a check decides by stands in its table of limits.

/** Numbers that count and compare by themselves; any other decides something and needs a name and a reason. */
const plain = new Set(['0', '1', '2']);

const files = readdirSync('source/faults', {recursive: true, encoding: 'utf8'})
	.filter(file => file.endsWith('.ts'))
	.map(file => path.join('source/faults', file));

/** Numeric literals outside any `limits: {…}` and any `const x: Limit = {…}`, as `file:line text`. */
function strayNumbersIn(file: string, text: string): string[] {
	const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
	const found: string[] = [];
	const visit = (node: ts.Node): void => {
		if (ts.isPropertyAssignment(node) && node.name.getText() === 'limits') return;
		if (ts.isVariableDeclaration(node) && node.name.getText() === 'limits') return;
		if (ts.isVariableDeclaration(node) && node.type !== undefined && /\bLimit\b/.test(node.type.getText())) return;
		if (ts.isTypeNode(node)) return;
		if (ts.isNumericLiteral(node) && !plain.has(node.text)) {
			const {line} = source.getLineAndCharacterOfPosition(node.getStart());
			found.push(`${file}:${line + 1} ${node.getText()}`);
		}
		node.forEachChild(visit);
	};
	visit(source);
	return found;
}

test('no number but −1, 0, 1 and 2 stands in source/faults outside a table of limits', () => {
	expect(files.length).toBeGreaterThan(30);
	expect(files.flatMap(file => strayNumbersIn(file, readFileSync(file, 'utf8')))).toEqual([]);
});

test('a number beside a table is found, one in it is not', () => {
	const text = 'const x = 0.25;\nexport const check = {limits: {ratio: {raise: 0.3}}, gates: [5]};\n';
	expect(strayNumbersIn('x.ts', text)).toEqual(['x.ts:1 0.25', 'x.ts:2 5']);
});

const limits = faults.flatMap(fault =>
	fault.ways.flatMap(way =>
		Object.entries(way.limits).map(([name, limit]) => ({
			title: `${fault.code}, ${way.name}: ${name}`,
			way,
			name,
			limit,
		})),
	),
);

test.each(limits)('$title stands between its must and its must not, and says why', ({limit}) => {
	expect(limit.because.length).toBeGreaterThan(20);
	expect(limit.unit).not.toBe('');
	if (limit.must === null || limit.mustNot === null) return;
	const [low, high] = [Math.min(limit.must, limit.mustNot), Math.max(limit.must, limit.mustNot)];
	expect(limit.raise).toBeGreaterThanOrEqual(low);
	expect(limit.raise).toBeLessThanOrEqual(high);
});

test.each(limits)(
	'$title is read by a gate of its name, and closes on the side of its must not',
	({way, name, limit}) => {
		const gate = way.gates.find(candidate => candidate.name === name);
		if (limit.clear === undefined || gate === undefined) return;
		if (gate.kind === 'at least') expect(limit.clear).toBeLessThanOrEqual(limit.raise);
		if (gate.kind === 'at most') expect(limit.clear).toBeGreaterThanOrEqual(limit.raise);
	},
);
