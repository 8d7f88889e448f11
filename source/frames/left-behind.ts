import type {FaultCode} from '../faults/registry.ts';
import type {Finding} from '../session/snapshot.ts';
import {listText} from '../text/list-text.ts';

/**
 * Findings of the link that lie in bytes, lines and events. The others (slow-frames, uneven-frames, stall, bursty-delivery,
 * lost-frames) lie in the times and numbers of the frames.
 */
const unseenInFrames: readonly FaultCode[] = [
	'wrong-baud',
	'broken-frames',
	'device-restart',
	'line-saturated',
	'stray-text',
	'silent',
	'port-lost',
];

/**
 * What a table of the frames no longer shows, in sentences: findings that lie in what is no frame (damaged lines, other
 * text, silence, the port), and what was declared beside the stream.
 */
export function leftBehind(findings: readonly Pick<Finding, 'code' | 'channel'>[], hadSheet: boolean): string[] {
	const lost = findings
		.filter(({code, channel}) => channel === null && unseenInFrames.some(unseen => unseen === code))
		.map(({code}) => code);
	return [
		...(lost.length > 0
			? [`Found here, and not to be seen in the readings alone: ${listText([...new Set(lost)])}.`]
			: []),
		...(lost.includes('device-restart')
			? ['The pause that a restart makes is a stall there, as nothing tells what it was.']
			: []),
		...(hadSheet
			? ['The sheet stored in it does not go into the table: give it with --sheet where the table is checked.']
			: []),
	];
}
