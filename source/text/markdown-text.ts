import {escapeText} from './escape-text.ts';

/**
 * Text in which nothing is markup (CommonMark): no link, picture, mention, emphasis, heading, table or HTML. Addresses lose
 * what chats and forums make a link of.
 */
export function literal(text: string): string {
	return escapeText(text)
		.replace(/([a-z][a-z0-9+.-]*):\/\//gi, '$1:')
		.replace(/\bwww\./gi, 'www ')
		.replace(/[\\`*_[\]<>|~#&]/g, '\\$&')
		.replaceAll('@', '(at)');
}

/** Text in a code span or a fenced block, where nothing is markup but the backtick. */
export function codeText(text: string): string {
	return escapeText(text).replaceAll('`', "'");
}
