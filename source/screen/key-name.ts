import type {Key} from 'ink';
/** A key as the key table names it: a character, or a word for keys without one. */
export type KeyName = string;

/**
 * The names, in the key table's words, of what one input event holds. A paste or quick typing arrives as one event of
 * several characters; each is a key of its own.
 */
export function keyNames(input: string, key: Partial<Key>): KeyName[] {
	if (key.upArrow) return ['up'];
	if (key.downArrow) return ['down'];
	if (key.leftArrow) return ['left'];
	if (key.rightArrow) return ['right'];
	if (key.pageUp) return ['page-up'];
	if (key.pageDown) return ['page-down'];
	if (key.home) return ['home'];
	if (key.end) return ['end'];
	if (key.return) return ['enter'];
	if (key.escape) return ['escape'];
	if (key.tab) return ['tab'];
	// What Ink calls delete is the byte most terminals send for backspace.
	if (key.backspace || key.delete) return ['backspace'];
	if (key.ctrl) return [`ctrl-${input}`];
	if (key.meta) return [];
	return [...input].flatMap(character => {
		if (character === ' ') return ['space'];
		if (character === '\r' || character === '\n') return ['enter'];
		if (character === '\u007F' || character === '\b') return ['backspace'];
		if (character === '\u0003') return ['ctrl-c'];
		return character < ' ' ? [] : [character];
	});
}
