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
	const now = sayable(picture, said);
	return {lines: tellers.flatMap(tell => tell({picture, now, said, page})), said: now};
}

type Moment = {
	readonly picture: GlovePicture;
	/** What will have been said, and what has been. */
	readonly now: Said;
	readonly said: Said;
	readonly page: Page;
};

/** All that there is to say now, as it will be remembered. */
function sayable({live, silentFor, over, guide, pulled}: GlovePicture, said: Said): Said {
	return {
		frames: live.layout !== null,
		open: new Set(live.findings.filter(({to}) => to === null).map(occurrence)),
		closed: new Set(live.findings.filter(({to}) => to !== null).map(occurrence)),
		// Between two pulls of one cord there is nothing new to say.
		moving: live.channels.find(({name}) => name === pulled)?.name ?? said.moving,
		states: new Map(live.channels.map(({name, state}) => [name, state])),
		asked: guide === null ? null : (guide.hint ?? guide.prompt),
		pressed: new Set(live.channels.filter(({button}) => button?.pressed).map(({name}) => name)),
		events: live.events.length,
		marks: live.marks.length,
		silent: silentFor !== null && silentFor >= silenceSeconds,
		over: over !== null,
	};
}

/** What tells a finding from an earlier one of the same code and channel. */
function occurrence({code, channel, spans}: Finding): string {
	return `${code}/${channel}/${spans.length}`;
}

/** What is told, in this order. */
const tellers: readonly ((moment: Moment) => readonly string[])[] = [
	({picture: {over}, said}) => (over !== null && !said.over ? [over] : []),
	({picture: {live}, said}) =>
		live.events
			.slice(said.events)
			.map(({t, event, detail}) => `${formatTime(t)} ${event}${detail ? `, ${escapeText(detail)}` : ''}`),
	tellSilence,
	({picture: {live}, said}) =>
		live.layout !== null && !said.frames
			? [`Frames arrive: ${live.layout.channels.map(channel => escapeText(channel.name)).join(', ')}.`]
			: [],
	({picture: {live}, said}) =>
		live.findings
			.filter(finding => finding.to === null && !said.open.has(occurrence(finding)))
			.map(finding => `${formatTime(finding.flaggedAt)} new ${finding.status}: ${spokenFinding(finding)}`),
	({picture: {live}, said}) =>
		live.findings
			.filter(finding => finding.to !== null && !said.closed.has(occurrence(finding)))
			.map(finding => `${formatTime(finding.to)} over: ${subject(finding)} ${finding.code}.`),
	tellMovement,
	tellStates,
	tellAsked,
	({picture: {live}, said}) =>
		live.channels.flatMap(({name, button}) =>
			button?.pressed && !said.pressed.has(name)
				? [`${formatTime(live.t)} ${name} in, ${button.presses} presses.`]
				: [],
		),
	({picture: {live}, said}) =>
		live.marks.slice(said.marks).map(({t, mark}) => `${formatTime(t)} mark: ${escapeText(mark)}`),
];

function tellSilence({picture: {live}, now, said}: Moment): string[] {
	if (now.silent === said.silent) return [];
	return now.silent
		? [`${formatTime(live.t)} silent: nothing arrives. Try another cable, another port, the power bank.`]
		: [`${formatTime(live.t)} data arrives again.`];
}

function tellMovement({picture: {live, pulled}, said, page}: Moment): string[] {
	const moving = page === 'bench' ? live.channels.find(({name}) => name === pulled) : undefined;
	return moving && moving.name !== said.moving
		? [`${formatTime(live.t)} ${moving.name} moved, ${spokenReading(moving)}.`]
		: [];
}

function tellStates({picture: {live}, now, said, page}: Moment): string[] {
	return [...now.states].flatMap(([name, state]) => {
		const before = said.states.get(name);
		if (state === before) return [];
		if (state === 'lost') return [`${formatTime(live.t)} LOST: ${name} was proven and is an open pin now.`];
		return page === 'bench' && state === 'proven' && before !== undefined
			? [`${formatTime(live.t)} ${name} is proven.`]
			: [];
	});
}

/** What a guide asks for now, after what came of the last that it asked for. */
function tellAsked({picture: {guide}, now: {asked}, said}: Moment): string[] {
	if (guide === null || asked === null || asked === said.asked) return [];
	const last = guide.hint === null && guide.last !== null ? [escapeText(guide.last)] : [];
	return [...last, escapeText(asked)];
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
