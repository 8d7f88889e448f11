import {isFirst, verdictSentence, verdictWord} from '../report/verdict-text.ts';
import {rowText} from '../screen/rows.ts';
import type {ChannelView, Finding, Snapshot} from '../session/snapshot.ts';
import {weighs} from '../session/verdict.ts';
import {escapeText} from '../text/escape-text.ts';
import {silenceSeconds} from './alert-row.ts';
import {benchLead} from './bench-lead.ts';
import {handChannels} from './channel-rows.ts';
import {listedFindings, subject} from './finding-rows.ts';
import {barScale} from './format-bar.ts';
import {formatCounts, formatMilliseconds, formatPercent, formatRate, formatTime} from './format-number.ts';
import type {GlovePicture} from './glove-picture.ts';
import {keyPage} from './key-line.ts';
import type {Page, ViewState} from './view-state.ts';

/** What of a glove has been said already. */
export type Said = {
	readonly frames: boolean;
	readonly open: ReadonlySet<string>;
	readonly closed: ReadonlySet<string>;
	readonly moving: string | null;
	readonly states: ReadonlyMap<string, string>;
	readonly asked: string | null;
	readonly pressed: ReadonlySet<string>;
	readonly events: number;
	readonly marks: number;
	readonly silent: boolean;
	readonly over: boolean;
};

export const nothingSaid: Said = {
	frames: false,
	open: new Set(),
	closed: new Set(),
	moving: null,
	states: new Map(),
	asked: null,
	pressed: new Set(),
	events: 0,
	marks: 0,
	silent: false,
	over: false,
};

/**
 * What has happened since, in sentences, each a line of its own; the most pressing first. What moves is told on the
 * bench page only: during play it would drown everything else.
 */
export function news(picture: GlovePicture, said: Said, page: Page): {readonly lines: string[]; readonly said: Said} {
	const {live} = picture;
	const lines: string[] = [];
	const open = live.findings.filter(finding => finding.to === null);
	const closed = live.findings.filter(finding => finding.to !== null);
	const key = (finding: Finding) => `${finding.code}/${finding.channel}/${finding.spans.length}`;
	const silent = picture.silentFor !== null && picture.silentFor >= silenceSeconds;

	if (picture.over !== null && !said.over) lines.push(picture.over);
	for (const event of live.events.slice(said.events)) {
		lines.push(`${formatTime(event.t)} ${event.event}${event.detail ? `, ${escapeText(event.detail)}` : ''}`);
	}

	if (silent && !said.silent)
		lines.push(`${formatTime(live.t)} silent: nothing arrives. Try another cable, another port, the power bank.`);
	if (!silent && said.silent) lines.push(`${formatTime(live.t)} data arrives again.`);
	if (live.layout !== null && !said.frames) {
		lines.push(`Frames arrive: ${live.layout.channels.map(channel => escapeText(channel.name)).join(', ')}.`);
	}

	for (const finding of open) {
		if (said.open.has(key(finding))) continue;
		lines.push(`${formatTime(finding.flaggedAt)} new ${finding.status}: ${spokenFinding(finding)}`);
	}

	for (const finding of closed) {
		if (!said.closed.has(key(finding)))
			lines.push(`${formatTime(finding.to)} over: ${subject(finding)} ${finding.code}.`);
	}

	const moving = live.channels.find(({name}) => name === picture.pulled);
	if (page === 'bench' && moving && moving.name !== said.moving)
		lines.push(`${formatTime(live.t)} ${moving.name} moved, ${spokenReading(moving)}.`);
	const states = new Map(live.channels.map(({name, state}) => [name, state]));
	for (const [name, state] of states) {
		const before = said.states.get(name);
		if (state === 'lost' && before !== 'lost')
			lines.push(`${formatTime(live.t)} LOST: ${name} was proven and is an open pin now.`);
		else if (page === 'bench' && state === 'proven' && before !== undefined && before !== 'proven')
			lines.push(`${formatTime(live.t)} ${name} is proven.`);
	}

	const asked = picture.guide === null ? null : (picture.guide.hint ?? picture.guide.prompt);
	if (asked !== null && asked !== said.asked) {
		const {last} = picture.guide!;
		lines.push(...(picture.guide!.hint === null && last !== null ? [escapeText(last)] : []), escapeText(asked));
	}

	const pressed = live.channels.filter(channel => channel.button?.pressed);
	for (const channel of pressed) {
		if (!said.pressed.has(channel.name))
			lines.push(`${formatTime(live.t)} ${channel.name} in, ${channel.button!.presses} presses.`);
	}

	for (const mark of live.marks.slice(said.marks)) lines.push(`${formatTime(mark.t)} mark: ${escapeText(mark.mark)}`);
	return {
		lines,
		said: {
			frames: live.layout !== null,
			open: new Set(open.map(key)),
			closed: new Set(closed.map(key)),
			// Between two pulls of one cord there is nothing new to say.
			moving: moving?.name ?? said.moving,
			states,
			asked,
			pressed: new Set(pressed.map(channel => channel.name)),
			events: live.events.length,
			marks: live.marks.length,
			silent,
			over: picture.over !== null,
		},
	};
}

/** The page that was asked for, in sentences. */
export function spokenPage(picture: GlovePicture, view: ViewState): string[] {
	const {steady} = picture;
	switch (view.page) {
		case 'findings': {
			const findings = listedFindings(steady);
			return findings.length === 0
				? ['Nothing found.']
				: findings.map(finding => `${isFirst(finding) ? 'Do first: ' : ''}${spokenFinding(finding)}`);
		}

		case 'link':
			return [spokenLink(steady)];
		case 'keys':
			return keyPage(view).map(line => rowText(line).trim());
		case 'checks': {
			const waiting = steady.checks.filter(({state}) => state === 'waiting');
			return [
				`${steady.checks.length} checks, ${waiting.length} waiting.`,
				...waiting.map(
					({code, channel, seen, needed, next}) => `${channel ?? 'link'} ${code}: ${seen} of ${needed}. ${next ?? ''}`,
				),
			];
		}

		case 'trend': {
			const channel = steady.channels.find(({name}) => name === (view.channel ?? picture.pulled));
			return channel ? [spokenChannel(channel)] : ['No channel yet.'];
		}

		case 'bench': {
			if (picture.guide !== null) return [picture.guide.prompt];
			const lead = benchLead(picture.live, picture.pulled);
			const next =
				lead.next === undefined ? 'Done: every channel is proven.' : `Next, ${lead.next.name}: ${lead.what}.`;
			return [`${lead.proven} of ${lead.all} proven. ${next}`, ...handChannels(steady).map(spokenChannel)];
		}

		case 'stick':
			return steady.channels.filter(({role}) => role === 'stick' || role === 'button').map(spokenChannel);
		default:
			return [
				`${escapeText(picture.name)} at ${formatTime(picture.position?.t ?? steady.t)}. ${spokenLink(steady)}`,
				...steady.channels.filter(({role}) => role !== 'counter' && role !== 'clock').map(spokenChannel),
				`${verdictWord(steady.verdict)}: ${verdictSentence(steady)}`,
				...steady.notes.map(note => `${note}.`),
			];
	}
}

function spokenFinding(finding: Finding): string {
	const state =
		finding.to === null
			? `since ${formatTime(finding.from)}`
			: `${finding.mended ? 'mended' : 'over'}, ${formatTime(finding.from)} to ${formatTime(finding.to)}`;
	const next = weighs(finding) && finding.advice[0] ? ` Next: ${escapeText(finding.advice[0])}` : '';
	return `${subject(finding)} ${finding.code}, ${state}. ${escapeText(finding.summary)}${next}`;
}

function spokenLink({link}: Snapshot): string {
	const load = link.lineLoad === null ? '' : `, load ${formatPercent(link.lineLoad)}`;
	return `${formatRate(link.recentFramesPerSecond ?? link.framesPerSecond)} frames a second, jitter ${formatMilliseconds(link.jitterMs)}, ${link.badLines} bad lines${load}.`;
}

function spokenChannel(channel: ChannelView): string {
	if (channel.button)
		return `${channel.name} ${channel.button.pressed ? 'in' : 'out'}, ${channel.button.presses} presses, ${channel.button.bounces} bounced, ${channel.state}.`;
	const seen = channel.span === null ? '' : `, seen ${formatCounts(channel.min)} to ${formatCounts(channel.max)}`;
	return `${channel.name} ${spokenReading(channel)}${seen}, ${channel.state}.`;
}

function spokenReading(channel: ChannelView): string {
	const {low, high} = barScale(channel);
	return `${formatCounts(channel.now)}, ${formatPercent((channel.now - low) / (high - low || 1))}`;
}
