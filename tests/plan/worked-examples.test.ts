import {readFileSync} from 'node:fs';
import {describe, expect, it} from 'vitest';
import * as converter from '../../source/plan/converter-settling.ts';
import * as link from '../../source/plan/link-budget.ts';
import * as power from '../../source/plan/power-budget.ts';
import * as reel from '../../source/plan/reel-geometry.ts';

const formulas: Readonly<Record<string, unknown>> = {...reel, ...converter, ...link, ...power};
const page = readFileSync(new URL('../../docs/plan.md', import.meta.url), 'utf8');

/** `name(arguments) * factor // => value` lines of the page's code blocks. */
const examples = [...page.matchAll(/^```ts\n([\s\S]*?)^```/gm)].flatMap(([, block]) => block.trimEnd().split('\n'));

function evaluate(expression: string): number {
	const [, name, argumentsText, factor = '1'] = /^(\w+)\((.*)\)(?: \* ([\d.e+-]+))?$/.exec(expression) ?? [];
	const formula = formulas[name] as (...values: unknown[]) => number;
	return formula(...JSON.parse(`[${argumentsText}]`)) * Number(factor);
}

describe('docs/plan.md', () => {
	it('has at least one example of every formula', () => {
		const functions = Object.keys(formulas).filter(
			name => typeof formulas[name] === 'function' && name !== 'frameBytes',
		);
		for (const name of functions)
			expect(
				examples.some(line => line.startsWith(`${name}(`)),
				name,
			).toBe(true);
	});

	it.each(examples)('%s', line => {
		const [expression, value] = line.split(' // => ');
		const decimals = value.split('.')[1]?.length ?? 0;
		expect(Math.abs(evaluate(expression) - Number(value))).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-12);
	});
});

// Hand working: 7 analog values of four digits, 2 buttons, 8 separators, CR LF.
it('a frame of five fingers, stick and two buttons at 12 bit has 40 bytes', () => {
	const names = ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y', 'button-1', 'button-2'];
	const channels = names.map(name => ({name}));
	expect(link.frameBytes({channels}, 4095)).toBe(40);
	// Two bytes each, CRC-16, and END before and after (RFC 1055) or code byte and delimiter (COBS).
	expect(link.frameBytes({channels, link: {framing: 'slip'}}, 4095)).toBe(22);
	expect(link.frameBytes({channels, link: {framing: 'cobs'}}, 4095)).toBe(22);
	const json = `${JSON.stringify(Object.fromEntries(names.map(name => [name, name.startsWith('button') ? 1 : 4095])))}\r\n`;
	expect(link.frameBytes({channels, link: {framing: 'json'}}, 4095)).toBe(json.length);
	const text = '4095,4095,65535,4294967295\r\n';
	expect(link.frameBytes({channels: ['ring', '-', 'counter', 'clock'].map(name => ({name}))}, 4095)).toBe(text.length);
});
