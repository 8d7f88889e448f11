import {type Row, row, type Tone} from '../screen/rows.ts';
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
	for (const alert of atBench ? benchAlerts : alerts) {
		const found = alert(picture, atBench);
		if (found !== undefined) return row(` ${found.text}`, found.tone ?? 'alert');
	}

	return undefined;
}

type Alert = {readonly text: string; readonly tone?: Tone};

/** One thing that may press; undefined where it does not. */
type AlertOf = (picture: GlovePicture, atBench: boolean) => Alert | undefined;

const overAlert: AlertOf = ({over}) => (over === null ? undefined : {text: over});

const recordingAlert: AlertOf = ({recording}) => (recording?.error ? {text: escapeText(recording.error)} : undefined);

const portAlert: AlertOf = ({lostFor, kind, name}) => {
	if (lostFor === null) return undefined;
	const what = kind === 'tcp' ? 'Switched on, and in the network?' : 'Plug and cable?';
	return {
		text: `PORT GONE for ${Math.floor(lostFor)} s. ${what} It goes on by itself when ${escapeText(name)} is back.`,
	};
};

const silenceAlert: AlertOf = ({silentFor}) =>
	silentFor === null || silentFor < silenceSeconds
		? undefined
		: {
				text: `SILENT for ${Math.floor(silentFor)} s: try another cable, another port or computer, and the power bank: many switch off at so small a load.`,
			};

const lostAlert: AlertOf = ({live}) => {
	const lost = live.channels.filter(({state}) => state === 'lost').map(({name}) => name.toUpperCase());
	if (lost.length === 0) return undefined;
	const text =
		lost.length === 1
			? 'was proven and is an open pin now: its wire or wiper is off.'
			: 'were proven and are open pins now: their wires or wipers are off.';
	return {text: `LOST  ${listText(lost)} ${text}`};
};

const newsAlert: AlertOf = ({live}, atBench) => {
	const fresh = live.findings.filter(
		finding =>
			finding.to === null &&
			live.t - finding.flaggedAt < newForSeconds &&
			!(atBench && (finding.status === 'function-check' || finding.channel === null)),
	);
	const newest = fresh.at(-1);
	if (newest === undefined) return undefined;
	const more = fresh.length > 1 ? ` (+${fresh.length - 1} new)` : '';
	const isGrave = fresh.some(({status}) => status === 'failure' || status === 'out-of-spec');
	return {
		text: `NEW ${newest.status}${more}: ${subject(newest)} ${newest.code}: ${newest.summary}`,
		tone: isGrave ? 'alert' : 'strong',
	};
};

const sharedAlert: AlertOf = ({live}) => {
	const shared = live.events.findLast(event => event.event === 'shared');
	return shared?.detail !== undefined && live.t - shared.t < dtrSeconds
		? {text: escapeText(shared.detail), tone: 'strong'}
		: undefined;
};

const restartAlert: AlertOf = ({live}) => {
	const dtr = live.events.findLast(event => event.event === 'dtr');
	return dtr !== undefined && live.t - dtr.t < dtrSeconds
		? {text: 'Opening the port pulsed DTR, which restarts many boards; --no-reset leaves it alone.', tone: 'strong'}
		: undefined;
};

const cutAlert: AlertOf = ({live}) =>
	live.events.some(event => event.event === 'truncated')
		? {text: 'The recording is cut off here: what was written before reads well.', tone: 'strong'}
		: undefined;

const pressing = [overAlert, recordingAlert, portAlert, silenceAlert, lostAlert, newsAlert];
const alerts: readonly AlertOf[] = [...pressing, sharedAlert, restartAlert, cutAlert];
const benchAlerts: readonly AlertOf[] = [...pressing, cutAlert];
