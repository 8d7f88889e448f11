import {spellHidden} from '../text/escape-text.ts';
import {tomlEscape} from './toml-escape.ts';
import type {TomlNode} from './toml-tree.ts';

/** A value of a sheet as it may be shown: short, in quotes where it is text, no control characters. */
export function shownValue(node: TomlNode): string {
	switch (node.kind) {
		case 'text':
			return quoteSheet(node.value);
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

/** Text from a sheet in quotes, at most 40 characters, everything a terminal might obey escaped. */
export function quoteSheet(text: string): string {
	const cut = text.length > 40 ? `${text.slice(0, 40)}…` : text;
	return spellHidden(JSON.stringify(cut), tomlEscape);
}
