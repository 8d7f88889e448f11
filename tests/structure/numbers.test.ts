import {readdirSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {expect, test} from 'vitest';

const root = new URL('../../', import.meta.url).pathname;

/** Where numbers are written for programs, not for readers, or rounded and used on. */
const ofFormats: Readonly<Record<string, string>> = {
	'source/frames/convert-readings.ts': 'rounds what is written to a file',
	'source/frames/frame-text.ts': 'writes frames as CSV, JSON and lines',
	'source/mount/simulated-poses.ts': 'writes logs of a tracker',
	'source/report/junit.ts': 'writes the XML of test results',
	'source/simulator/frame-format.ts': 'writes what a board sends',
	'source/simulator/stamped-lines.ts': 'writes a log with times',
	'source/simulator/faults/stray-text.ts': 'writes what a board sends',
	'source/sources/log/stages/front-numbers.ts': 'writes a time that is read again',
};

const formats = ['source/text/number-text.ts', 'source/text/round-figures.ts'];

test('numbers become text for readers in source/text/number-text.ts only', () => {
	const own = readdirSync(join(root, 'source'), {recursive: true, encoding: 'utf8'})
		.map(name => `source/${name.replaceAll('\\', '/')}`)
		.filter(name => name.endsWith('.ts') && !formats.includes(name))
		.filter(name => /\.(?:toFixed|toPrecision|toLocaleString)\(/.test(readFileSync(join(root, name), 'utf8')));
	expect(own.sort()).toEqual(Object.keys(ofFormats).sort());
});
