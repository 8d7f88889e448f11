import {type AST, ParseError, parseTOML} from 'toml-eslint-parser';

/** A value of a TOML document with the line it stands on (from 1; 0 where it did not come from a file). */
export type TomlNode =
	| {readonly kind: 'table'; readonly line: number; readonly entries: Map<string, TomlNode>}
	| {readonly kind: 'array'; readonly line: number; readonly items: TomlNode[]}
	| {readonly kind: 'text'; readonly line: number; readonly value: string}
	| {readonly kind: 'number'; readonly line: number; readonly value: number; readonly isWhole: boolean}
	| {readonly kind: 'switch'; readonly line: number; readonly value: boolean}
	| {readonly kind: 'time'; readonly line: number};

export type TableNode = Extract<TomlNode, {kind: 'table'}>;

/** The document is no TOML; `line` says where. */
export class TomlSyntaxError extends Error {
	readonly line: number;

	constructor(message: string, line: number) {
		super(message);
		this.line = line;
	}
}

const keyName = (key: AST.TOMLBare | AST.TOMLQuoted): string => (key.type === 'TOMLBare' ? key.name : key.value);

/** Reads TOML 1.0 into a tree that keeps lines. Keys go into maps, so `__proto__` is a key like any other. */
export function parseTomlTree(text: string): TableNode {
	const root = emptyTable(1);
	for (const item of program(text).body[0].body) {
		if (item.type === 'TOMLKeyValue') add(root, item);
		else {
			const table = tableAt(root, item.resolvedKey, item.loc.start.line);
			for (const entry of item.body) add(table, entry);
		}
	}
	return root;
}

function program(text: string): AST.TOMLProgram {
	try {
		return parseTOML(text, {tomlVersion: '1.0'});
	} catch (error) {
		if (error instanceof ParseError) throw new TomlSyntaxError(error.message, error.lineNumber);
		throw error;
	}
}

function add(table: TableNode, {key, value}: AST.TOMLKeyValue): void {
	const names = key.keys.map(keyName);
	const last = names.pop() as string;
	tableAt(table, names, key.loc.start.line).entries.set(last, node(value));
}

/** The table at a path, made where it is not there yet. Numbers in the path count the tables of `[[name]]`. */
function tableAt(root: TableNode, path: readonly (string | number)[], line: number): TableNode {
	let at: TomlNode = root;
	for (const [index, step] of path.entries()) {
		const isList = typeof path[index + 1] === 'number';
		const next: TomlNode = child(at, step) ?? (isList ? {kind: 'array', line, items: []} : emptyTable(line));
		if (at.kind === 'array') at.items[step as number] = next;
		else if (at.kind === 'table') at.entries.set(step as string, next);
		at = next;
	}
	// The parser has already refused a path through anything that is no table.
	return at as TableNode;
}

function child(node: TomlNode, step: string | number): TomlNode | undefined {
	if (node.kind === 'array') return node.items[step as number];
	return node.kind === 'table' ? node.entries.get(step as string) : undefined;
}

function emptyTable(line: number): TableNode {
	return {kind: 'table', line, entries: new Map()};
}

function node(value: AST.TOMLContentNode): TomlNode {
	const {line} = value.loc.start;
	switch (value.type) {
		case 'TOMLArray':
			return {kind: 'array', line, items: value.elements.map(node)};
		case 'TOMLInlineTable': {
			const table = emptyTable(line);
			for (const entry of value.body) add(table, entry);
			return table;
		}
		case 'TOMLValue':
			switch (value.kind) {
				case 'string':
					return {kind: 'text', line, value: value.value};
				case 'boolean':
					return {kind: 'switch', line, value: value.value};
				case 'integer':
				case 'float':
					return {kind: 'number', line, value: Number(value.value), isWhole: value.kind === 'integer'};
				default:
					return {kind: 'time', line};
			}
	}
}
