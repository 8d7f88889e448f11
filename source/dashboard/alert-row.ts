import {type Row, row} from '../screen/rows.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';
import {subject} from './finding-rows.ts';
import type {GlovePicture} from './glove-picture.ts';

/** A finding counts as new for so many seconds of stream time: long enough to look up from the wiring. */
const newForSeconds = 10;

/** So long without a byte and the screen says so; a glove at 30 frames a second is silent for 33 ms at most. */
export const silenceSeconds = 2;

/** For so long after opening the port its restart is explained. */
const dtrSeconds = 8;

/** Whether something presses more than whatever is asked for: nothing can be seen, or nothing is kept, or a channel was lost. */
export function isPressing({over, recording, lostFor, silentFor, live}: GlovePicture): boolean {
	return (
		over !== null ||
		recording?.error != null ||
		lostFor !== null ||
		(silentFor !== null && silentFor >= silenceSeconds) ||
		live.channels.some(({state}) => state === 'lost')
	);
}

/**
 * What must not be missed, in the place of the verdict on every page, the most pressing first: the source is over, the
 * recording failed, the port has gone, nothing arrives, a channel was lost, something new was found, another program
 * reads along, opening restarted the board. Undefined where nothing presses. `atBench`: what waits to be wired
 * is no news there, and the link's quality is none that full hands can mend.
 */
export function alertRow(picture: GlovePicture, atBench = false): Row | undefined {
	const {live} = picture;
	const {silentFor, lostFor} = picture;
	if (picture.over !== null) return row(` ${picture.over}`, 'alert');
	const {recording} = picture;
	if (recording?.error) return row(` ${escapeText(recording.error)}`, 'alert');
	if (lostFor !== null) {
		return row(
			` PORT GONE for ${Math.floor(lostFor)} s. ${picture.kind === 'tcp' ? 'Switched on, and in the network?' : 'Plug and cable?'} It goes on by itself when ${escapeText(picture.name)} is back.`,
			'alert',
		);
	}

	if (silentFor !== null && silentFor >= silenceSeconds) {
		return row(
			` SILENT for ${Math.floor(silentFor)} s: try another cable, another port or computer, and the power bank: many switch off at so small a load.`,
			'alert',
		);
	}

	const lost = live.channels.filter(({state}) => state === 'lost').map(({name}) => name.toUpperCase());
	if (lost.length > 0) {
		const [was, wire] = lost.length === 1 ? ['was', 'its wire or wiper is'] : ['were', 'their wires or wipers are'];
		return row(
			` LOST  ${listText(lost)} ${was} proven and ${lost.length === 1 ? 'is an open pin' : 'are open pins'} now: ${wire} off.`,
			'alert',
		);
	}

	const fresh = live.findings.filter(
		finding =>
			finding.to === null &&
			live.t - finding.flaggedAt < newForSeconds &&
			!(atBench && (finding.status === 'function-check' || finding.channel === null)),
	);
	const newest = fresh.at(-1);
	if (newest !== undefined) {
		const more = fresh.length > 1 ? ` (+${fresh.length - 1} new)` : '';
		const isGrave = fresh.some(({status}) => status === 'failure' || status === 'out-of-spec');
		return row(
			` NEW ${newest.status}${more}: ${subject(newest)} ${newest.code}: ${newest.summary}`,
			isGrave ? 'alert' : 'strong',
		);
	}

	const shared = live.events.findLast(event => event.event === 'shared');
	if (shared?.detail !== undefined && live.t - shared.t < dtrSeconds && !atBench) {
		return row(` ${escapeText(shared.detail)}`, 'strong');
	}

	const dtr = live.events.findLast(event => event.event === 'dtr');
	if (dtr !== undefined && live.t - dtr.t < dtrSeconds && !atBench) {
		return row(' Opening the port pulsed DTR, which restarts many boards; --no-reset leaves it alone.', 'strong');
	}

	return live.events.some(event => event.event === 'truncated')
		? row(' The recording is cut off here: what was written before reads well.', 'strong')
		: undefined;
}
