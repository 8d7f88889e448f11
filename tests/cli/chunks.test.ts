import {readFileSync} from 'node:fs';
import path from 'node:path';
import {describe, expect, it} from 'vitest';
import {commandTable} from '../../source/command-line/command-table.ts';
import {cliPath} from './run-cli.ts';

/** What the entry loads for every command. */
const mainPath = path.join(path.dirname(cliPath), 'main.js');

/** Every file that a built file loads at once, itself included; `import()` is not followed. */
function loadedWith(file: string, found = new Set<string>()): Set<string> {
	if (found.has(file)) return found;
	found.add(file);
	for (const [, name] of readFileSync(file, 'utf8').matchAll(/(?:from\s*|^import\s*)"(\.\/[^"]+)"/gm)) {
		loadedWith(path.join(path.dirname(file), name), found);
	}

	return found;
}

/** The file that the entry imports for a command, by the name of its module. */
function chunkOf(command: string): string {
	const entry = [...loadedWith(mainPath)].map(file => readFileSync(file, 'utf8')).join('\n');
	const name = new RegExp(`import\\("(\\./${command}-[A-Z0-9]+\\.js)"\\)`).exec(entry)?.[1];
	if (!name) throw new Error(`no chunk of ${command}`);
	return path.join(path.dirname(mainPath), name);
}

const marksOf = {react: 'react.transitional.element', ink: 'INK_SCREEN_READER', serialport: '"serialport"'};

const has = (files: Iterable<string>, mark: string) =>
	[...files].some(file => readFileSync(file, 'utf8').includes(mark));

describe('what a command loads', () => {
	it('finds React in the dashboard, so that its absence elsewhere means something', () => {
		const everything = new Set<string>();
		const follow = (file: string) => {
			if (everything.has(file)) return;
			everything.add(file);
			for (const [, name] of readFileSync(file, 'utf8').matchAll(/"(\.\/[\w-]+\.js)"/g)) {
				follow(path.join(path.dirname(file), name));
			}
		};
		follow(chunkOf('attach'));
		for (const mark of Object.values(marksOf)) expect(has(everything, mark), mark).toBe(true);
	});

	it.each(commandTable.map(({name}) => name).filter(name => name !== 'attach' && name !== 'replay' && name !== 'demo'))(
		'%s loads neither Ink nor React nor the serial bindings to begin with',
		command => {
			const files = [...loadedWith(mainPath), ...loadedWith(chunkOf(command))];
			for (const [name, mark] of Object.entries(marksOf)) {
				// Listing ports is what the bindings are for.
				if (command === 'ports' && name === 'serialport') continue;
				expect(has(files, mark), name).toBe(false);
			}
		},
	);
});
