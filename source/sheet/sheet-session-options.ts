import type {SessionOptions} from '../session/session-options.ts';
import {channelKind, type Sheet} from './sheet.ts';

/** What a sheet declares for a session; keys it says nothing about are left out. */
export function sheetSessionOptions(sheet: Sheet): Omit<Partial<SessionOptions>, 'timing'> {
	const {board, link, channels} = sheet;
	const names = channels.map(({name}) => (channelKind(name) === 'spare' ? '-' : name)).join(',');
	const framing = link?.framing && link.framing !== 'text' ? `${link.framing}:` : '';
	return {
		...(link?.baud !== undefined && {baud: link.baud}),
		...(board?.fullScale !== undefined && {fullScale: board.fullScale}),
		...(names !== '' && {layout: framing + names}),
		...(link?.targetRate !== undefined && {targetRate: link.targetRate}),
		...declaredFingers(channels),
	};
}

/** Fingers of which both ends of the travel are given, and what is given of their direction. */
function declaredFingers(channels: Sheet['channels']): Pick<SessionOptions, 'fingers'> {
	const fingers = channels.flatMap(({name, min, max, inverted}) =>
		channelKind(name) === 'finger' && min !== undefined && max !== undefined
			? [[name, {min, max, ...(inverted !== undefined && {inverted})}] as const]
			: [],
	);
	return fingers.length > 0 ? {fingers: Object.fromEntries(fingers)} : {};
}
