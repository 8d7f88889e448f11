import {findFault} from '../faults/registry.ts';
import {listText} from '../text/list-text.ts';
import {leftToProve} from './left-to-prove.ts';
import type {Session} from './session.ts';
import type {ChannelView, Finding, Verdict} from './snapshot.ts';

/** Check-values D4: what weighs is every open finding, and every closed one that comes and goes by nature. */
export function weighs({code, to}: Pick<Finding, 'code' | 'to'>): boolean {
	return to === null || findFault(code)?.intermittent === true;
}

/** `pass` means proven: every finger, stick axis and button of the layout, and frames arrived whole. */
export function verdictOf(findings: readonly Finding[], channels: readonly ChannelView[], frames: number): Verdict {
	const weighing = findings.filter(weighs);
	if (weighing.some(({status}) => status === 'failure' || status === 'out-of-spec')) return 'fail';
	if (weighing.length > 0) return 'attention';
	return frames > 0 && leftToProve(channels).length === 0 ? 'pass' : 'unproven';
}

/** Tells of constant faults that are over whether their channel has been proven since. */
export function withMended(session: Session, findings: readonly Finding[]): Finding[] {
	return findings.map(finding => ({...finding, mended: isMended(session, finding)}));
}

function isMended(session: Session, {code, channel, to}: Finding): boolean {
	if (to === null || findFault(code)?.intermittent === true) return false;
	const {features} = session;
	const named = features.layout.channels.filter(({name}) => channel === null || name === channel);
	const judged = named.filter(({role}) => role === 'finger' || role === 'stick' || role === 'button');
	return judged.length > 0 && judged.every(one => session.channelStates.provenSince(features, one, to));
}

/** Calm sentences: open pins of which no finding is made because nothing, or nothing yet, is wired. */
export function calmNotes(channels: readonly ChannelView[], findings: readonly Finding[]): string[] {
	const told = new Set(
		findings.filter(({code, to}) => code === 'floating-input' && to === null).map(({channel}) => channel),
	);
	const open = channels.filter(({state, name}) => state === 'open' && !told.has(name));
	if (open.length === 0) return [];
	const names = listText(open.map(({name}) => name));
	const proven = channels.some(({role, state}) => role === 'finger' && state === 'proven');
	return [
		`${open.length} input${open.length === 1 ? '' : 's'} open: ${proven ? names : `nothing wired yet (${names})`}`,
	];
}
