import {readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import * as oneEuro from '../../source/fit/one-euro.ts';
import * as resolution from '../../source/fit/resolution.ts';
import {confidenceOfVisits} from '../../source/fit/robust-range.ts';
import * as smoothing from '../../source/fit/smoothing.ts';

const formulas: Readonly<Record<string, unknown>> = {...resolution, ...smoothing, ...oneEuro, confidenceOfVisits};
const page = readFileSync(new URL('../../docs/fit.md', import.meta.url), 'utf8');

/** `name(arguments) // => value` lines of the page's code blocks. */
const examples = [...page.matchAll(/^```ts\n([\s\S]*?)^```/gm)].flatMap(([, block]) => block.trimEnd().split('\n'));

// Values: formulas worked by hand or with an independent calculator; sources beside each on the page.
describe('docs/fit.md', () => {
	it.each(examples)('%s', line => {
		const [, name, argumentsText, value] = /^(\w+)\((.*)\) \/\/ => (.*)$/.exec(line)!;
		const formula = formulas[name] as (...values: unknown[]) => number;
		const decimals = value.split('.')[1]?.length ?? 0;
		const found = formula(...JSON.parse(`[${argumentsText}]`));
		expect(Math.abs(found - Number(value))).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-12);
	});
});
