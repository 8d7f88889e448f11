import {readFileSync} from 'node:fs';
import {expect, test} from 'vitest';
import type {FramerOptions} from '../../source/framing/frame-sink.ts';
import {Framer} from '../../source/framing/framer.ts';
import {bytesOf, Collected, frameBytes} from './collect.ts';

const page = readFileSync(new URL('../../docs/framing.md', import.meta.url), 'utf8');

type Example = {readonly kind: string; readonly received: string; readonly told: string};

const examples: Example[] = [...page.matchAll(/```(frames|packets)\n> (.*)\n= (.*)\n```/g)].map(
	([, kind, received, told]) => ({kind, received, told}),
);

function bytesOfExample(text: string): Uint8Array {
	const plain = text
		.replaceAll('\\t', '\t')
		.replaceAll('\\r', '\r')
		.replaceAll('\\n', '\n')
		.replace(/\\x([0-9a-f]{2})/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));
	return Uint8Array.from([...plain].map(character => character.charCodeAt(0)));
}

function tell({frames, layouts, names}: Collected, at: number): string {
	const {unit} = layouts[0];
	return names.map((name, i) => `${name}=${frames[at][i]}`).join(' ') + (unit === null ? '' : ` unit=${unit}`);
}

test('every example of the page is one that can be run', () => {
	expect(examples.length).toBeGreaterThanOrEqual(14);
	expect(examples).toHaveLength([...page.matchAll(/^```(frames|packets)$/gm)].length);
});

test.each(examples.map(example => [example.received, example] as const))('%s', (_title, {kind, received, told}) => {
	if (kind === 'frames') {
		const line = bytesOfExample(`${received}\r\n`);
		const last = bytesOfExample(`${received.split('\\n').at(-1)}\r\n`);
		const collected = frameBytes(Uint8Array.from([...line, ...Array.from({length: 24}, () => [...last]).flat()]));
		expect(tell(collected, 0)).toBe(told);
		expect(tell(collected, 24)).toBe(told);
		expect([collected.bad, collected.stray.length <= 1]).toEqual([[], true]);
		return;
	}
	const [layout, ...rest] = told.split(' ');
	const packet = bytesOfExample(received);
	const collected = frameBytes(Uint8Array.from(Array.from({length: 8}, () => [...packet]).flat()), {layout});
	expect(tell(collected, 3)).toBe(rest.join(' '));
});

/** How many lines, `secondsApart`, it takes until a layout is settled; the source does not end. */
function linesToSettle(line: (i: number) => string, secondsApart: number, options: FramerOptions = {}): number {
	const collected = new Collected();
	const framer = new Framer(collected, options);
	for (let i = 0; i < 200; i++) {
		framer.push(i * secondsApart, bytesOf(`${line(i)}\n`));
		if (collected.layouts.length > 0) return i + 1;
	}
	return Number.POSITIVE_INFINITY;
}

test('the numbers of lines on the page are those that it takes', () => {
	const rowOf = (cell: string): string => page.split('\n').find(line => line.startsWith(`| ${cell}`)) ?? '';
	const numbers = (cell: string): number[] => (rowOf(cell).split('|')[2].match(/\d+/g) ?? []).map(Number);
	const plain = (i: number): string => `512,${498 + (i % 7)}`;
	expect([linesToSettle(i => `thumb:512 index:${i % 7}`, 0.01)]).toEqual(numbers('every number'));
	expect([linesToSettle(plain, 0.01), linesToSettle(plain, 0.15)]).toEqual(numbers('no labels'));
	expect([linesToSettle(plain, 0.01, {layout: 'thumb,index'})]).toEqual(numbers('`--layout`'));
	const [atEnd] = numbers('at the end');
	expect(frameBytes(bytesOf(`${plain(0)}\n`.repeat(atEnd))).frames).toHaveLength(atEnd);
	expect(frameBytes(bytesOf(`${plain(0)}\n`.repeat(atEnd - 1))).frames).toHaveLength(0);
	const [again] = numbers('another format');
	const change = (lines: number) =>
		frameBytes(bytesOf(`${plain(0)}\n`.repeat(25) + '1;2;3\n'.repeat(lines))).layouts.length;
	expect([change(again - 1), change(again)]).toEqual([1, 2]);
});
