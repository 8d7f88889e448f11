// Checks the types of the folders that `tests/tsconfig.edges.json` includes, with its stricter options, and of those
// alone: what they import is checked by the options of the whole. Prints every message and fails where there is one.
// Usage: node tests/tools/edges.mjs [tsconfig]
import path from 'node:path';
import ts from 'typescript';

const config = path.resolve(process.argv[2] ?? 'tests/tsconfig.edges.json');
const {config: json, error} = ts.readConfigFile(config, ts.sys.readFile);
const {fileNames, options, errors} = ts.parseJsonConfigFileContent(json ?? {}, ts.sys, path.dirname(config));
const problems = [...(error ? [error] : []), ...errors];
if (problems.length === 0) {
	const program = ts.createProgram(fileNames, options);
	problems.push(...program.getOptionsDiagnostics(), ...program.getGlobalDiagnostics());
	for (const name of fileNames) {
		const file = program.getSourceFile(name);
		problems.push(...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file));
	}
}

const host = {getCanonicalFileName: name => name, getCurrentDirectory: () => process.cwd(), getNewLine: () => '\n'};
process.stdout.write(ts.formatDiagnostics(problems, host));
process.exitCode = problems.length > 0 ? 1 : 0;
