import {findFault} from '../../faults/registry.ts';
import {leftToProve} from '../../session/left-to-prove.ts';
import type {ReadInfo} from '../../session/run-session.ts';
import type {ChannelView, Finding, Snapshot} from '../../session/snapshot.ts';
import {listText} from '../../text/list-text.ts';
import {channelWords} from './plain-words.ts';

/** A movement that shows what is asked, how long it takes, and what to call the recording. */
export type ToSend = {readonly movement: string; readonly seconds: number; readonly name: string};

/** Whole movements give the chances that most checks count, so that one recording shows whether it is mended. */
const sixFists = 'hold still for 3 s, make six slow whole fists';

/** How long hands take for it, with a little to spare (check-values D5.1: fewer than twenty movements a minute). */
const handSeconds = 30;
const fistsSeconds = 45;
const stickSeconds = 20;
const buttonSeconds = 20;
const linkSeconds = 60;

/** Codes whose chances want more than the movement of their channel's kind gives. */
const wantMore: Readonly<Record<string, Omit<ToSend, 'name'>>> = {
	'baseline-drift': {movement: 'make ten whole fists, opening the hand fully each time', seconds: fistsSeconds},
	'rough-track': {movement: 'bend and stretch all fingers slowly, ten times', seconds: fistsSeconds},
	'mains-hum': {movement: 'hold still for 10 s, then make six slow whole fists', seconds: handSeconds},
	'excess-noise': {movement: 'hold still for 10 s, then make six slow whole fists', seconds: handSeconds},
	crosstalk: {
		movement: 'leave the stick alone and bend each finger by itself, three times each, one after the other',
		seconds: fistsSeconds,
	},
	silent: {movement: 'plug it in, wait, and move every finger once', seconds: handSeconds},
};

/** What to send after a finding was seen to, so that one can tell whether it is gone. */
export function toSendAfter({code, channel}: Finding, channels: readonly ChannelView[]): ToSend {
	const name = 'again';
	const more = wantMore[code];
	if (more !== undefined) return {...more, name};
	const view = channels.find(one => one.name === channel);
	if (view?.role === 'stick' || findFault(code)?.scope === 'stick')
		return {
			movement:
				'leave the stick alone for 3 s, push it fully to all four sides twice and let it go each time, then turn it round twice',
			seconds: stickSeconds,
			name,
		};
	if (view?.role === 'button')
		return {
			movement: `press ${channelWords(view)} ten times, and every other button twice`,
			seconds: buttonSeconds,
			name,
		};
	if (view?.role === 'finger')
		return {movement: `${sixFists}, then bend ${channelWords(view)} alone three times`, seconds: handSeconds, name};
	const fault = findFault(code);
	return fault?.scope === 'link' && fault.readsCounts !== true && fault.together !== true
		? {movement: 'wear the glove and move as usual', seconds: linkSeconds, name}
		: {movement: `${sixFists}, then bend each finger alone once`, seconds: handSeconds, name};
}

/** What to send so that what is left can be proven; undefined where nothing is. */
export function toSendToProve({channels}: Snapshot): ToSend | undefined {
	const left = leftToProve(channels).filter(({state}) => state !== 'open');
	const fingers = left.filter(({role}) => role === 'finger');
	const buttons = left.filter(({role}) => role === 'button');
	const parts: string[] = [];
	if (fingers.length > 0) parts.push(`make four slow whole fists, then bend ${listed(fingers)} alone three times`);
	if (left.some(({role}) => role === 'stick'))
		parts.push('push the stick fully to all four sides twice, letting it go each time');
	if (buttons.length > 0) parts.push(`press ${listed(buttons)} three times`);
	if (parts.length === 0) return undefined;
	const seconds =
		(fingers.length > 0 ? handSeconds : 0) +
		(left.some(({role}) => role === 'stick') ? stickSeconds : 0) +
		(buttons.length > 0 ? buttonSeconds : 0);
	return {movement: listText(parts), seconds, name: 'moved'};
}

function listed(channels: readonly ChannelView[]): string {
	const [first] = channels;
	if (first !== undefined && channels.length > 3)
		return `each ${first.role} ${first.role === 'finger' ? 'in turn' : ''}`.trim();
	return listText(channels.map(channelWords));
}

/** The command that records it. A port that was read is named; else PORT stands for it. */
export function recordCommand({name, seconds}: ToSend, info: ReadInfo, baud = info.baud): string {
	const isPort = info.kind === 'serial' || info.kind === 'tcp';
	const port = isPort && /^[\w./:[\]-]+$/.test(info.name) ? info.name : 'PORT';
	const rate = baud !== null && baud !== usualBaud && info.kind !== 'tcp' ? ` --baud ${baud}` : '';
	return `glovebench record ${port} -o ${name}.gbrec --for ${seconds}s${rate}`;
}

/** What `record` listens at unless told otherwise. */
const usualBaud = 115_200;
