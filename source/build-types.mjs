// Writes the types of `glovebench/session` into dist/types: the declarations that its own reach, no others. Runs before
// packing only, since the compiler takes longer than all the rest of the build; types are checked by `npm run typecheck`.
import {mkdirSync, writeFileSync} from 'node:fs';
import path from 'node:path';
import ts from 'typescript';

const entry = path.resolve('source/session/index.ts');
const {config} = ts.readConfigFile('tsconfig.json', ts.sys.readFile);
const {options} = ts.parseJsonConfigFileContent(config, ts.sys, process.cwd());
const declarations = new Map();
ts.createProgram([entry], {
	...options,
	noEmit: false,
	noCheck: true,
	declaration: true,
	emitDeclarationOnly: true,
	outDir: 'types',
	rootDir: 'source',
}).emit(undefined, (name, text) => declarations.set(path.resolve(name), text), undefined, true);

const wanted = new Set();
const want = file => {
	if (wanted.has(file)) return;
	wanted.add(file);
	const text = declarations.get(file);
	if (text === undefined) throw new Error(`${file} was not declared.`);
	for (const [, name] of text.matchAll(/(?:from |import\()'(\.[^']+)\.ts'/g))
		want(path.resolve(path.dirname(file), `${name}.d.ts`));
};
want(path.resolve('types/session/index.d.ts'));
for (const file of wanted) {
	const to = path.join('dist', path.relative('.', file));
	mkdirSync(path.dirname(to), {recursive: true});
	writeFileSync(to, declarations.get(file).replace(/((?:from |import\()'\.[^']+)\.ts'/g, "$1.js'"));
}
