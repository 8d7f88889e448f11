import {readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import {whyTooOld} from '../../source/command-line/why-too-old.ts';
import {cliPath} from '../cli/run-cli.ts';

describe('a version of Node', () => {
	it.each(['20.12.0', '20.20.2', '22.1.0', '24.11.1', '100.0.0-nightly'])(
		'that will do is let through: %s',
		version => {
			expect(whyTooOld(version)).toBeUndefined();
		},
	);

	it.each(['20.11.9', '20.2.0', '18.20.8', '4.9.1'])('that is too old is told what it takes: %s', version => {
		expect(whyTooOld(version)).toMatch(
			/^Node [\d.]+ is too old, it takes 20\.12 or newer: install a newer Node[^\n]*$/,
		);
	});

	// How Node 18 and older take it: tests/tools/other-nodes.mjs.
	it('is looked at before anything is imported', () => {
		const entry = readFileSync(cliPath, 'utf8');
		expect(entry).not.toMatch(/^\s*(?:import|export)\b\s*[^(\s]/m);
		expect(entry.match(/\bimport\(/g)).toHaveLength(1);
	});
});
