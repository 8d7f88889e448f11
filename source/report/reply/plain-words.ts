import type {ChannelView} from '../../session/snapshot.ts';
import {escapeText} from '../../text/escape-text.ts';

const fingerWords = /^(thumb|index|middle|ring|little)(?:-(\d+))?$/;
const jointWords: Readonly<Record<string, string>> = {2: 'second', 3: 'third'};

const handWords = {
	left: 'of the left hand',
	right: 'of the right hand',
	a: 'of the first glove',
	b: 'of the second glove',
} as const;

/** A channel as one would say it: `the ring finger`, `the stick's x axis`, `button 1`; any other by its name. */
export function channelWords(channel: Pick<ChannelView, 'name' | 'role' | 'hand' | 'nameOnHand'>): string {
	const {role, hand} = channel;
	if (hand !== undefined) {
		const {hand: _, ...own} = channel;
		return `${channelWords({...own, name: channel.nameOnHand ?? channel.name})} ${handWords[hand]}`;
	}

	const {name} = channel;
	const [, finger, joint] = fingerWords.exec(name) ?? [];
	if (role === 'finger' && finger !== undefined) {
		const whole = finger === 'thumb' ? 'the thumb' : `the ${finger} finger`;
		return joint === undefined ? whole : `${whole}'s ${jointWords[joint] ?? `${joint}th`} joint`;
	}

	if (role === 'stick' && /^stick-[xy]$/.test(name)) return `the stick's ${name.slice(-1)} axis`;
	if (role === 'button' && /^button-\d+$/.test(name)) return name.replace('-', ' ');
	return chatText(name);
}

/**
 * Text from a device that is read as text in any chat: escaped for a terminal, without what chats take for markup, a
 * mention or a link.
 */
export function chatText(text: string): string {
	return escapeText(text)
		.replace(/([a-z][a-z0-9+.-]*):\/\//gi, '$1:')
		.replace(/\bwww\./gi, 'www ')
		.replaceAll('@', '(at)')
		.replace(/[*_~`<>|#[\]]/g, ' ')
		.trim();
}

/** What a bench says in short, said in full. */
const shorthand: readonly (readonly [RegExp, string])[] = [
	[/ ?% FS\b(?: rms| peak)?/g, ' % of full scale'],
	[/ rms\b/g, ''],
];

/** A finding's summary in plain words: channels as one would say them, units in full; begins with a capital. */
export function plainSummary(summary: string, channels: readonly ChannelView[]): string {
	let text = summary;
	for (const [pattern, words] of shorthand) text = text.replace(pattern, words);
	// Longer names first: `index-2` is not the index finger and -2.
	const names = [...channels].sort((a, b) => b.name.length - a.name.length);
	const pieces = new Map<string, string>();
	for (const channel of names) pieces.set(channel.name, channelWords(channel));
	const pattern = names.map(({name}) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('|');
	if (pattern !== '')
		text = text.replace(new RegExp(`(?<![\\w-])(?:${pattern})(?![\\w-])`, 'g'), name => pieces.get(name) ?? name);
	return capital(chatText(text));
}

export function capital(text: string): string {
	return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A sentence to go on with after a colon: its first letter small, unless it begins a name (`INPUT`, `USB`). */
export function goOn(text: string): string {
	return /^(?:[A-Z][a-z]|A )/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}
