import {mkdirSync, mkdtempSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterAll, beforeAll} from 'vitest';
import {allAttacks, attacks} from './terminal-attacks.ts';

/** As long as a name may be in most file systems, every class of control in it. `/` and NUL cannot be. */
export const hostileName =
	'\u001b]0;owned\u0007\u009b2J\u0090q\u009c\r\b\u007f\u202e\u200b\u2028\u{e0041}\u001b[6n\u001b_a\u001b\\\u001bXs\u001b\\\u001b^p\u001b\\<img src=x onerror=alert(1)>`[a](b)`*@all*\n';

const frame = (index: number): string => {
	const hand = 2000 + Math.round(1900 * Math.sin(index / 12));
	return `${index},${hand},${hand + 30},${hand - 20},4095,${hand + 11},2048,${1000 + (index % 5)},1`;
};

const line = (t: number, item: object): string => JSON.stringify({t: Math.round(t * 1e4) / 1e4, ...item});

/** A recording in which every text is an attack: header, sheet, start-up text, labels, stray and damaged lines, marks, events. */
export function hostileRecording(labelled = false): string {
	const head = {
		glovebench: 1,
		startedAt: allAttacks,
		source: {kind: 'serial', name: allAttacks, [allAttacks]: allAttacks},
		link: {baud: 115_200},
		// A sheet's own texts must be one line; what hides is no line end.
		sheet: {name: `fox \u200b\u00ad\u3164\u{e0041}`, note: 'a\u061cb', channels: []},
		note: allAttacks,
	};
	const lines = [JSON.stringify(head)];
	attacks.forEach(([, , text], index) => {
		lines.push(line(index / 100, {rx: `boot ${text}\r\n`}));
	});
	for (let index = 0; index < 500; index++) {
		const t = 1 + index / 100;
		const [, , text] = attacks[index % attacks.length]!;
		lines.push(line(t, {rx: labelled ? labelledFrame(index) : `${frame(index)}\r\n`}));
		if (index % 20 === 7)
			lines.push(line(t, {rx: `note ${text}\r\n`}), line(t, {mark: text}), line(t, {event: 'dtr', detail: text}));
		if (index % 20 === 13) lines.push(line(t, {rx: `51${text},${index}\r\n`}));
	}

	lines.push(line(10, {event: 'port-lost', detail: allAttacks}), line(12, {end: true, bytes: 1}));
	return `${lines.join('\n')}\n`;
}

/** Labels that hold controls, markup and what cannot be seen; the reader must find channels all the same. */
function labelledFrame(index: number): string {
	const labels = [
		'th\u202eumb',
		'in\u200bdex',
		'mid\u3164dle',
		'r<b>ing',
		'li`ttle',
		'a\u0301\u0301\u0301\u0301b',
		'pad\u{1D41A}x',
		'*bold*',
	];
	return `${labels.map((label, column) => `${label}:${2000 + Math.round(1900 * Math.sin(index / 12 + (column > 4 ? column : 0)))}`).join(', ')}\r\n`;
}

const tomlEscaped = (text: string): string =>
	`"${[...text].map(character => (character < ' ' || character > '~' || character === '"' || character === '\\' ? `\\U${character.codePointAt(0)!.toString(16).padStart(8, '0')}` : character)).join('')}"`;

/** A sheet that parses, with names in which something hides; and one in which every line is an attack. */
export const hidingSheet = `name = ${tomlEscaped('fox \u200b\u00ad\u061c\u3164\u{e0041} <b>`*@all*')}\nnote = ${tomlEscaped('\u180e\ufe0f')}\n[board]\nfamily = "esp32"\n[[channel]]\nname = "thumb"\npin = "GPIO32"\n[[channel]]\nname = "index"\npin = "GPIO33"\n`;
export const hostileSheet = [
	...attacks.map(([, , text], index) => `${tomlEscaped(`k${index}${text}`)} = ${tomlEscaped(text)}`),
	`name = ${tomlEscaped(allAttacks)}`,
	'[board]',
	`family = ${tomlEscaped(`esp${allAttacks}`)}`,
	...attacks.map(
		([, , text]) =>
			`[[channel]]\nname = ${tomlEscaped(text)}\npin = ${tomlEscaped(text)}\n${tomlEscaped(text)} = ${tomlEscaped(text)}`,
	),
].join('\n');

/** A folder with all of it, its own name hostile as well. */
export function makeHostileFolder(): {readonly folder: string; readonly remove: () => void} {
	const root = mkdtempSync(path.join(tmpdir(), 'hostile-'));
	const folder = path.join(root, `d\u001b[2J\u202e\u0085`);
	mkdirSync(folder);
	const put = (name: string, text: string): void => writeFileSync(path.join(folder, name), text);
	put(`${hostileName}.gbrec`, hostileRecording());
	put(`labels${hostileName}.gbrec`, hostileRecording(true));
	put(`${hostileName}.toml`, hostileSheet);
	put(`hiding${hostileName}.toml`, hidingSheet);
	put(
		`${hostileName}.txt`,
		`${attacks.map(([, , text]) => `${text}\n`).join('')}${Array.from({length: 300}, (_, index) => `${frame(index)}\n`).join('')}`,
	);
	put(`syntax${hostileName}.toml`, `name = "\u001b]0;owned\u0007"\n\u009b = 1\n`);
	return {folder, remove: () => rmSync(root, {recursive: true})};
}

/**
 * The same for the tests of a file: made before them, removed after them. Gives full names in it; `NAME` stands for the hostile
 * name.
 */
export function hostileFolder(): (name: string) => string {
	let made: ReturnType<typeof makeHostileFolder>;
	beforeAll(() => {
		made = makeHostileFolder();
	});
	afterAll(() => made.remove());
	return name => path.join(made.folder, name.replace('NAME', hostileName));
}
