import {closestNames} from '../text/closest-names.ts';
import {fullStop} from '../text/full-stop.ts';
import {readSetting, wordMeant} from './read-setting.ts';
import type {Sheet} from './sheet.ts';
import {type KeyRule, sheetSchema, type TableRule, takes, topKeys} from './sheet-schema.ts';
import {quoteSheet, shownValue} from './shown-value.ts';
import {parseTomlTree, type TableNode, type TomlNode, TomlSyntaxError} from './toml-tree.ts';

/** Something wrong in a sheet. `line` counts from 1. */
type SheetProblem = {readonly line: number; readonly message: string};

/** `sheet` is undefined where there are problems. Problems come in the order of their lines. */
export type ParsedSheet = {readonly sheet?: Sheet; readonly problems: readonly SheetProblem[]};

/**
 * Reads a sheet. Unknown tables and keys, missing and bad values, and text that is no TOML are problems with their
 * line; nothing is guessed or left out in silence. Never throws.
 */
export function parseSheet(text: string): ParsedSheet {
	let root: TableNode;
	try {
		root = parseTomlTree(text.replace(/^\uFEFF/, ''));
	} catch (error) {
		// The parser goes down into brackets by calling itself, and puts a text together in one call.
		if (error instanceof RangeError) return {problems: [{line: 1, message: tooMuch}]};
		if (!(error instanceof TomlSyntaxError)) throw error;
		return {
			problems: [{line: error.line, message: `${lowerFirst(error.message)}; a sheet is TOML, see docs/sheet.md.`}],
		};
	}
	return new SheetReader().read(root);
}

/**
 * Takes a sheet out of JSON, as a recording's header keeps it (the fields of `Sheet`). Checked like one from a file;
 * lines are 0.
 */
export function sheetFromJson(json: unknown): ParsedSheet {
	const root = jsonNode(json, 0);
	if (root?.kind !== 'table') return {problems: [{line: 0, message: 'a sheet must be a JSON object.'}]};
	const channels = root.entries.get('channels');
	if (channels) {
		root.entries.delete('channels');
		root.entries.set('channel', channels);
	}
	return new SheetReader().read(root);
}

const tooMuch = 'brackets nested deeper, or a text longer, than in any sheet; see docs/sheet.md.';

class SheetReader {
	readonly #problems: SheetProblem[] = [];

	read(root: TableNode): ParsedSheet {
		const sheet: Record<string, unknown> = {channels: []};
		for (const [name, node] of root.entries) {
			const [table, key] = [entryOf(sheetSchema, name), entryOf(topKeys, name)];
			if (table?.repeated) sheet.channels = this.#channels(node, name, table);
			else if (table) sheet[name] = this.#table(node, `[${name}]`, table);
			else if (key) sheet[name] = this.#value(node, name, key);
			else this.#unknownTop(name, node);
		}
		const problems = this.#problems.sort((a, b) => a.line - b.line);
		return problems.length > 0 ? {problems} : {sheet: sheet as Sheet, problems};
	}

	#say(line: number, message: string): undefined {
		this.#problems.push({line, message: fullStop(message)});
		return undefined;
	}

	#unknownTop(name: string, node: TomlNode): void {
		const table = node.kind === 'table' || node.kind === 'array';
		const known = table ? Object.keys(sheetSchema) : [...Object.keys(topKeys), ...Object.keys(sheetSchema)];
		const hint = unknownHint(table ? undefined : homeOf(name), closestNames(name, known)[0]);
		this.#say(node.line, `unknown ${table ? 'table' : 'key'} ${quoteSheet(name)}.${hint}`);
	}

	#table(node: TomlNode, title: string, rule: TableRule): Record<string, unknown> | undefined {
		if (node.kind !== 'table')
			return this.#say(node.line, `${title} must be a table: write ${title} on a line of its own.`);
		const values: Record<string, unknown> = {};
		for (const [key, value] of node.entries) {
			const known = entryOf(rule.keys, key);
			if (known) values[camelCase(key)] = this.#value(value, key, known);
			else this.#unknownKey(key, value.line, title, rule);
		}
		for (const [key, {required, meaning}] of Object.entries(rule.keys)) {
			if (required && !node.entries.has(key)) this.#say(node.line, `${title} needs ${quoteSheet(key)}: ${meaning}.`);
		}
		if (typeof values.min === 'number' && typeof values.max === 'number' && values.min >= values.max) {
			const line = node.entries.get('max')?.line ?? node.line;
			this.#say(line, `max must be above min (${values.min}); a channel that runs backwards has inverted = true.`);
		}
		return values;
	}

	#unknownKey(key: string, line: number, title: string, rule: TableRule): void {
		const hint = unknownHint(homeOf(key), closestNames(key, Object.keys(rule.keys))[0]);
		this.#say(line, `unknown key ${quoteSheet(key)} in ${title}.${hint}`);
	}

	#channels(node: TomlNode, name: string, rule: TableRule): unknown[] {
		const title = `[[${name}]]`;
		if (node.kind !== 'array') {
			this.#say(node.line, `${title} is written with two brackets, once for each channel.`);
			return [];
		}
		const seen = new Map<string, number>();
		return node.items.map(item => {
			const channel = this.#table(item, title, rule);
			if (typeof channel?.name === 'string' && channel.name !== '-') {
				const before = seen.get(channel.name);
				if (before !== undefined) {
					this.#say(item.line, `a second channel ${quoteSheet(channel.name)}; the first one is on line ${before}.`);
				} else seen.set(channel.name, item.line);
			}
			return channel && {...channel, ...(item.line > 0 && {line: item.line})};
		});
	}

	#value(node: TomlNode, key: string, rule: KeyRule): unknown {
		const value = readSetting(node, rule);
		if (value !== undefined) return value;
		const hint = meantText(wordMeant(node, rule));
		return this.#say(node.line, `${key} must not be ${shownValue(node)}: it takes ${takes(rule)}.${hint}`);
	}
}

/** Where a key belongs that stands in the wrong place; undefined for one that no table has. */
function homeOf(key: string): string | undefined {
	const home = Object.entries(sheetSchema).find(([, {keys}]) => Object.hasOwn(keys, key));
	if (home === undefined) return undefined;
	const [name, {repeated}] = home;
	return repeated ? `[[${name}]]` : `[${name}]`;
}

function unknownHint(home: string | undefined, near: string | undefined): string {
	return home === undefined ? meantText(near) : ` It belongs under ${home}.`;
}

function meantText(word: string | undefined): string {
	return word === undefined ? '' : ` Did you mean ${quoteSheet(word)}?`;
}

/** The entry of this very name, and nothing that every object has, such as `constructor`. */
function entryOf<T>(record: Readonly<Record<string, T>>, name: string): T | undefined {
	return Object.hasOwn(record, name) ? record[name] : undefined;
}

function lowerFirst(text: string): string {
	return text.charAt(0).toLowerCase() + text.slice(1);
}

function camelCase(key: string): string {
	return key.replace(/_(\w)/g, (_, letter: string) => letter.toUpperCase());
}

function snakeCase(key: string): string {
	return key.replace(/[A-Z]/g, letter => `_${letter.toLowerCase()}`);
}

/** JSON as the same tree a file gives; undefined for null. Deeper than any sheet counts as null. */
function jsonNode(json: unknown, depth: number): TomlNode | undefined {
	if (depth > 4) return undefined;
	switch (typeof json) {
		case 'string':
			return {kind: 'text', line: 0, value: json};
		case 'number':
			return {kind: 'number', line: 0, value: json, isWhole: Number.isInteger(json)};
		case 'boolean':
			return {kind: 'switch', line: 0, value: json};
		case 'object': {
			if (json === null) return undefined;
			if (Array.isArray(json)) {
				const items = json.map(item => jsonNode(item, depth + 1)).filter(item => item !== undefined);
				return {kind: 'array', line: 0, items};
			}
			const entries = new Map<string, TomlNode>();
			for (const [key, value] of Object.entries(json)) {
				// The line of the file a channel once came from says nothing any more.
				const child = depth === 2 && key === 'line' ? undefined : jsonNode(value, depth + 1);
				if (child) entries.set(snakeCase(key), child);
			}
			return {kind: 'table', line: 0, entries};
		}
		default:
			return undefined;
	}
}
