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
	};
}
