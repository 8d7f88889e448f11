import type {Glyphs} from '../screen/look.ts';
import {type Row, row} from '../screen/rows.ts';
import {leftToProveText} from '../session/left-to-prove.ts';
import {escapeText} from '../text/escape-text.ts';
import {changedLast} from './channel-rows.ts';
import {findingTime, subject} from './finding-rows.ts';
import {formatTime} from './format-number.ts';
import type {GlovePicture} from './glove-picture.ts';

/** A finding counts as new for so many seconds of stream time: long enough to look up from the wiring. */
export const newForSeconds = 10;

/** So long without a byte and the screen says so; a glove at 30 frames a second is silent for 33 ms at most. */
export const silenceSeconds = 2;

/** For so long after opening the port its restart is explained. */
const dtrSeconds = 8;

/**
 * The one line that is there on every page for what must not be missed, the most pressing first: the port has gone,
 * nothing arrives, a new finding, another program on the port, opening restarted the board, what is open, what is left to
 * prove, what moved last.
 */
export function alertRow(picture: GlovePicture, glyphs: Glyphs): Row {
	const {live} = picture;
	const {silentFor, lostFor} = picture;
	if (picture.over !== null) return row(` ${picture.over}`, 'alert');
	const {recording} = picture;
	if (recording?.error) return row(` ${escapeText(recording.error)}`, 'alert');
	if (lostFor !== null) {
		return row(
			` PORT GONE for ${Math.floor(lostFor)} s: goes on by itself when ${escapeText(picture.name)} is back. ${picture.kind === 'tcp' ? 'Switched on, and in the network?' : 'Plug and cable?'}`,
			'alert',
		);
	}

	if (silentFor !== null && silentFor >= silenceSeconds) {
		return row(
			` SILENT for ${Math.floor(silentFor)} s: try another cable, another port or computer, and the power bank: many switch off at so small a load.`,
			'alert',
		);
	}

	const fresh = live.findings.filter(finding => finding.to === null && live.t - finding.flaggedAt < newForSeconds);
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
	if (shared?.detail !== undefined && live.t - shared.t < dtrSeconds) {
		return row(` ${escapeText(shared.detail)}`, 'strong');
	}

	const dtr = live.events.findLast(event => event.event === 'dtr');
	if (dtr !== undefined && live.t - dtr.t < dtrSeconds) {
		return row(' Opening the port pulsed DTR, which restarts many boards; --no-reset leaves it alone.', 'strong');
	}

	if (live.events.some(event => event.event === 'truncated')) {
		return row(' The recording is cut off here: what was written before reads well.', 'strong');
	}

	const open = live.findings.filter(finding => finding.to === null);
	if (open.length > 0) {
		const first = open.find(finding => finding.first) ?? open[0];
		return row(` ${open.length} open, do first: ${subject(first)} ${first.code} ${findingTime(first, glyphs)}`);
	}

	if (live.notes.length > 0) return row(` ${live.notes.join('; ')}`);
	const left = leftToProveText(live.channels);
	if (left !== '') return row(` Not yet proven: ${left}`);

	const moved = changedLast(live);
	return row(
		moved?.lastMovedAt == null
			? ' Nothing has moved yet.'
			: ` Moved last: ${moved.name} at ${formatTime(moved.lastMovedAt)}`,
		'quiet',
	);
}
