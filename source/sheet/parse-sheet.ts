import {closestNames} from '../text/closest-names.ts';
import {spellHidden} from '../text/escape-text.ts';
import {fullStop} from '../text/full-stop.ts';
import {channelKind, channelNames, type Sheet} from './sheet.ts';
import {type KeyRule, sheetSchema, type TableRule, takes, topKeys} from './sheet-schema.ts';
import {tomlEscape} from './toml-escape.ts';
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
			const table = Object.hasOwn(sheetSchema, name) ? sheetSchema[name] : undefined;
			if (table?.repeated) sheet.channels = this.#channels(node, name, table);
			else if (table) sheet[name] = this.#table(node, `[${name}]`, table);
			else if (Object.hasOwn(topKeys, name)) sheet[name] = this.#value(node, name, topKeys[name]);
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
		const near = closestNames(name, known)[0];
		const home = table ? undefined : Object.keys(sheetSchema).find(key => Object.hasOwn(sheetSchema[key].keys, name));
		const hint = home ? ` It belongs under ${heading(home)}.` : near ? ` Did you mean ${quote(near)}?` : '';
		this.#say(node.line, `unknown ${table ? 'table' : 'key'} ${quote(name)}.${hint}`);
	}

	#table(node: TomlNode, title: string, rule: TableRule): Record<string, unknown> | undefined {
		if (node.kind !== 'table')
			return this.#say(node.line, `${title} must be a table: write ${title} on a line of its own.`);
		const values: Record<string, unknown> = {};
		for (const [key, value] of node.entries) {
			if (Object.hasOwn(rule.keys, key)) values[camelCase(key)] = this.#value(value, key, rule.keys[key]);
			else this.#unknownKey(key, value.line, title, rule);
		}
		for (const [key, {required}] of Object.entries(rule.keys)) {
			if (required && !node.entries.has(key))
				this.#say(node.line, `${title} needs ${quote(key)}: ${rule.keys[key].meaning}.`);
		}
		if (typeof values.min === 'number' && typeof values.max === 'number' && values.min >= values.max) {
			const line = node.entries.get('max')?.line ?? node.line;
			this.#say(line, `max must be above min (${values.min}); a channel that runs backwards has inverted = true.`);
		}
		return values;
	}

	#unknownKey(key: string, line: number, title: string, rule: TableRule): void {
		const near = closestNames(key, Object.keys(rule.keys))[0];
		const home = Object.keys(sheetSchema).find(name => Object.hasOwn(sheetSchema[name].keys, key));
		const hint = home ? ` It belongs under ${heading(home)}.` : near ? ` Did you mean ${quote(near)}?` : '';
		this.#say(line, `unknown key ${quote(key)} in ${title}.${hint}`);
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
					this.#say(item.line, `a second channel ${quote(channel.name)}; the first one is on line ${before}.`);
				} else seen.set(channel.name, item.line);
			}
			return channel && {...channel, ...(item.line > 0 && {line: item.line})};
		});
	}

	#value(node: TomlNode, key: string, rule: KeyRule): unknown {
		const bad = (shown: string, hint = '') =>
			this.#say(node.line, `${key} must not be ${shown}: it takes ${takes(rule)}.${hint}`);
		const isInRange = (value: number) => value >= (rule.least ?? -Infinity) && value <= (rule.most ?? Infinity);
		switch (rule.kind) {
			case 'switch':
				return node.kind === 'switch' ? node.value : bad(shown(node));
			case 'whole':
			case 'number':
				if (node.kind !== 'number' || !isInRange(node.value)) return bad(shown(node));
				return rule.kind === 'number' || Number.isInteger(node.value) ? node.value : bad(shown(node));
			case 'numbers': {
				const items = node.kind === 'array' ? node.items : [];
				const values = items.map(item => (item.kind === 'number' && isInRange(item.value) ? item.value : undefined));
				return values.length < 1 || values.length > 3 || values.includes(undefined) ? bad(shown(node)) : values;
			}
			case 'vector': {
				const items = node.kind === 'array' ? node.items : [];
				const values = items.map(item => (item.kind === 'number' && isInRange(item.value) ? item.value : undefined));
				return values.length !== rule.size || values.includes(undefined) ? bad(shown(node)) : values;
			}
			case 'pin': {
				const text =
					node.kind === 'number' && Number.isInteger(node.value) && node.value >= 0 ? String(node.value) : textOf(node);
				return text !== undefined && /^[A-Za-z0-9._-]{1,20}(?:\/\d{1,2})?$/.test(text.trim())
					? text.trim()
					: bad(shown(node));
			}
			case 'text': {
				const text = textOf(node);
				return text !== undefined && isOneLine(text) ? text : bad(shown(node));
			}
			case 'choice': {
				const text = textOf(node)?.toLowerCase();
				if (text !== undefined && rule.words?.includes(text)) return text;
				const near = closestNames(text ?? '', rule.words ?? [])[0];
				return bad(shown(node), near ? ` Did you mean ${quote(near)}?` : '');
			}
			case 'channel': {
				const text = textOf(node);
				if (text !== undefined && channelKind(text)) return text;
				const near = closestNames(text ?? '', channelNames)[0];
				return bad(shown(node), near ? ` Did you mean ${quote(near)}?` : '');
			}
		}
	}
}

function textOf(node: TomlNode): string | undefined {
	return node.kind === 'text' ? node.value : undefined;
}

/** Short, and nothing in it that a terminal would obey. */
function isOneLine(text: string): boolean {
	return text.length <= 500 && !/[\u0000-\u001F\u007F-\u009F\u2028-\u202E\u2066-\u2069]/.test(text);
}

function heading(table: string): string {
	return sheetSchema[table].repeated ? `[[${table}]]` : `[${table}]`;
}

/** A value as it may be shown: short, in quotes where it is text, no control characters. */
function shown(node: TomlNode): string {
	switch (node.kind) {
		case 'text':
			return quote(node.value);
		case 'number':
		case 'switch':
			return String(node.value);
		case 'array':
			return 'a list';
		case 'table':
			return 'a table';
		case 'time':
			return 'a date or time';
	}
}

/** Text from a file in quotes, at most 40 characters, everything a terminal might obey escaped. */
function quote(text: string): string {
	const cut = text.length > 40 ? `${text.slice(0, 40)}…` : text;
	return spellHidden(JSON.stringify(cut), tomlEscape);
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
