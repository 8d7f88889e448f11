import {closestNames} from '../text/closest-names.ts';
import {channelKind, channelNames} from './sheet.ts';
import type {KeyRule} from './sheet-schema.ts';
import type {TomlNode} from './toml-tree.ts';

/** What a node says under a rule; undefined where the rule does not take it. */
type Reader = (node: TomlNode, rule: KeyRule) => unknown;

const readers: Readonly<Record<KeyRule['kind'], Reader>> = {
	switch: node => (node.kind === 'switch' ? node.value : undefined),
	number: numberIn,
	whole: (node, rule) => {
		const value = numberIn(node, rule);
		return Number.isInteger(value) ? value : undefined;
	},
	numbers: (node, rule) => numbersIn(node, rule, 1, 3),
	vector: (node, rule) => numbersIn(node, rule, rule.size ?? 0, rule.size ?? 0),
	pin: node => {
		const text = pinText(node)?.trim();
		return text !== undefined && /^[A-Za-z0-9._-]{1,20}(?:\/\d{1,2})?$/.test(text) ? text : undefined;
	},
	text: node => {
		const text = textOf(node);
		return text !== undefined && isOneLine(text) ? text : undefined;
	},
	choice: (node, {words}) => {
		const text = textOf(node)?.toLowerCase();
		return text !== undefined && words?.includes(text) ? text : undefined;
	},
	channel: node => {
		const text = textOf(node);
		return text !== undefined && channelKind(text) ? text : undefined;
	},
};

/** The value that a key of a sheet is given, as its rule wants it; undefined where the rule does not take it. */
export function readSetting(node: TomlNode, rule: KeyRule): unknown {
	return readers[rule.kind](node, rule);
}

/** The word that was probably meant where a rule takes certain words only and this is none of them. */
export function wordMeant(node: TomlNode, {kind, words}: KeyRule): string | undefined {
	const text = textOf(node) ?? '';
	if (kind === 'choice') return closestNames(text.toLowerCase(), words ?? [])[0];
	return kind === 'channel' ? closestNames(text, channelNames)[0] : undefined;
}

function numberIn(node: TomlNode, {least = -Infinity, most = Infinity}: KeyRule): number | undefined {
	return node.kind === 'number' && node.value >= least && node.value <= most ? node.value : undefined;
}

/** A list of at least `fewest` and at most `most` numbers, each within the rule's limits. */
function numbersIn(node: TomlNode, rule: KeyRule, fewest: number, most: number): number[] | undefined {
	const items = node.kind === 'array' ? node.items : [];
	const values = items.flatMap(item => numberIn(item, rule) ?? []);
	return values.length === items.length && values.length >= fewest && values.length <= most ? values : undefined;
}

function textOf(node: TomlNode): string | undefined {
	return node.kind === 'text' ? node.value : undefined;
}

/** A pin may be written as a bare number. */
function pinText(node: TomlNode): string | undefined {
	if (node.kind !== 'number') return textOf(node);
	return Number.isInteger(node.value) && node.value >= 0 ? String(node.value) : undefined;
}

/** Short, and nothing in it that a terminal would obey. */
function isOneLine(text: string): boolean {
	return text.length <= 500 && !/[\u0000-\u001F\u007F-\u009F\u2028-\u202E\u2066-\u2069]/.test(text);
}
