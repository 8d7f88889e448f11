import {spellHidden} from '../text/escape-text.ts';
import type {Sheet} from './sheet.ts';
import {type KeyRule, sheetSchema, topKeys} from './sheet-schema.ts';
import {tomlEscape} from './toml-escape.ts';

/**
 * A sheet as TOML, every key with a comment that says what it is (in the first channel for channels). Keys without a value stand there commented out, with
 * an example, once. `parseSheet` reads it back to the same sheet.
 *
 * `heading` lines are put on top as comments.
 */
export function writeSheet(sheet: Sheet, heading: readonly string[] = []): string {
	const lines = [
		...heading.map(comment),
		'# Check it with: glovebench sheet check FILE. All keys are explained in docs/sheet.md.',
		'',
		...Object.entries(topKeys).map(([key, rule]) => keyLine(key, rule, settingOf(sheet, key))),
	];
	for (const [name, {meaning, repeated, keys}] of Object.entries(sheetSchema)) {
		const [first, ...others]: readonly unknown[] = repeated ? sheet.channels : [settingOf(sheet, name)];
		const title = repeated ? `[[${name}]]` : `[${name}]`;
		lines.push('', comment(meaning), `${first === undefined ? '# ' : ''}${title}`);
		lines.push(...explainedKeys(name, keys, first));
		for (const table of others) lines.push('', title, ...setKeys(keys, table));
	}
	return `${lines.join('\n')}\n`;
}

type Keys = Readonly<Record<string, KeyRule>>;

/** The keys of a table with what they are: those without a value as comments, to be filled in. */
function explainedKeys(name: string, keys: Keys, table: unknown): string[] {
	return Object.entries(keys).flatMap(([key, rule]) => {
		const value = settingOf(table, key);
		const isToldHere = value !== undefined || table === undefined || !isMisplaced(name, key);
		return isToldHere ? [keyLine(key, rule, value)] : [];
	});
}

/** The keys of a table that have a value, and nothing besides. */
function setKeys(keys: Keys, table: unknown): string[] {
	return Object.keys(keys).flatMap(key => {
		const value = settingOf(table, key);
		return value === undefined ? [] : [`${key} = ${tomlValue(value)}`];
	});
}

/** Reel keys belong to a channel only where it differs from the others: they are not offered there. */
function isMisplaced(table: string, key: string): boolean {
	return table === 'channel' && Object.hasOwn(sheetSchema.reel?.keys ?? {}, key);
}

function keyLine(key: string, rule: KeyRule, value?: unknown): string {
	const entry = value === undefined ? `# ${key} = ${rule.example}` : `${key} = ${tomlValue(value)}`;
	return `${entry.padEnd(36)} # ${rule.meaning}`;
}

function comment(text: string): string {
	// A line break in a comment would start a line of the sheet.
	return `# ${spellHidden(text.replaceAll(/[\u0000-\u001F\u007F]+/g, ' '), tomlEscape)}`.trimEnd();
}

function settingOf(table: unknown, key: string): unknown {
	const name = key.replace(/_(\w)/g, (_, letter: string) => letter.toUpperCase());
	return (table as Record<string, unknown> | undefined)?.[name];
}

function tomlValue(value: unknown): string {
	if (typeof value === 'string') return tomlText(value);
	if (Array.isArray(value)) return `[${value.map(tomlValue).join(', ')}]`;
	return String(value);
}

/** A basic string of TOML: JSON's escapes are the same; half a surrogate pair has no form at all. What hides is spelled. */
function tomlText(text: string): string {
	return spellHidden(JSON.stringify(text.replace(/\p{Surrogate}/gu, '\uFFFD')), tomlEscape);
}
