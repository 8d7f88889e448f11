import {findFault} from '../../faults/registry.ts';
import {itemAt} from '../../item-at.ts';
import {isCut} from '../../session/cut-text.ts';
import {leftToProve} from '../../session/left-to-prove.ts';
import type {ReadInfo} from '../../session/run-session.ts';
import type {ChannelView, Finding, Snapshot} from '../../session/snapshot.ts';
import {weighs} from '../../session/verdict.ts';
import {fullStop} from '../../text/full-stop.ts';
import {listText} from '../../text/list-text.ts';
import {countText, secondsText} from '../../text/number-text.ts';
import {evidenceText, hasUnit} from '../evidence-text.ts';
import {intakeOf} from '../intake-text.ts';
import {publicName} from '../public-name.ts';
import {stepCautions} from '../step-cautions.ts';
import {mostPressingFirst} from '../verdict-text.ts';
import {capital, channelWords, chatText, goOn, plainSummary} from './plain-words.ts';
import {recordCommand, type ToSend, toSendAfter, toSendToProve} from './what-to-send.ts';

/** Short enough for one message of any chat, and to be read to its end. */
export const mostReplyCharacters = 1200;

/** A part of the message; what may be left out where it grows too long, highest number first. */
type Part = {readonly text: string; readonly optional?: number};

/**
 * A message to the person who built the glove: what was seen, what to do first and what it should read, and what to send
 * then. Plain words from the catalogue that `explain` prints; no codes, no tables, at most 1,200 characters; the same for
 * the same session. Nothing wrong but something unproven: it asks for the movement. Text from the device cannot become
 * markup, a mention or a link. Ends with a line end.
 */
export function replyText(snapshot: Snapshot, info: ReadInfo): string {
	const weighing = mostPressingFirst(snapshot.findings, snapshot.channels).filter(weighs);
	const paragraphs = weighing.length > 0 ? foundParts(weighing, snapshot, info) : soundParts(snapshot, info);
	return shortened([[{text: hello(snapshot, info)}, ...howRead(snapshot, info)], ...paragraphs]);
}

/** Paragraphs as one text: optional parts are left out until it is short enough, at last it is cut. */
function shortened(paragraphs: readonly (readonly Part[])[]): string {
	const highest = Math.max(0, ...paragraphs.flat().map(({optional = 0}) => optional));
	let text = '';
	for (let kept = highest; kept >= 0; kept--) {
		text = `${paragraphs
			.map(parts =>
				parts
					.filter(part => part.text !== '' && (part.optional ?? 0) <= kept)
					.map(part => part.text)
					.join(' ')
					.replaceAll(' \n', '\n'),
			)
			.filter(Boolean)
			.join('\n\n')}\n`;
		if (text.length <= mostReplyCharacters) return text;
	}

	return `${text.slice(0, mostReplyCharacters - 2).trimEnd()}…\n`;
}

function hello({t, link}: Snapshot, info: ReadInfo): string {
	const rate = link.framesPerSecond === null ? '' : ` at ${Math.round(link.framesPerSecond)} a second`;
	const frames = link.frames === 0 ? '' : `, ${countText(link.frames, 'line')} of readings${rate}`;
	return `Hello, I looked at ${chatText(publicName(info.name))}: ${secondsText(t)}${frames}.`;
}

/** How the log was read, where that was a guess that the builder knows better. */
function howRead(snapshot: Snapshot, info: ReadInfo): Part[] {
	const {channels, layout} = snapshot;
	const judged = channels.filter(({role}) => role === 'finger' || role === 'stick' || role === 'button');
	const guessed = (layout?.channels ?? []).some(
		({role, by}) => (role === 'finger' || role === 'stick' || role === 'button') && (by === 'place' || by === 'order'),
	);
	const {odd} = intakeOf(snapshot, info);
	const sessions = info.sessions?.length ?? 1;
	return [
		...(guessed && judged.length > 0
			? [{text: `I took its columns, in order, for ${namesInOrder(judged)}; tell me if that is wrong.`, optional: 3}]
			: []),
		...(isCut(snapshot.events) ? [{text: 'It is not whole: something is missing.', optional: 2}] : []),
		...(sessions > 1
			? [{text: `It holds ${sessions} sessions; this is about number ${info.part ?? sessions}.`, optional: 2}]
			: []),
		...(info.timing === 'assumed' ? [{text: 'It has no times, so I cannot judge the link.', optional: 4}] : []),
		// What to send is told at the end.
		...odd
			.filter(text => !text.startsWith('Too little'))
			.slice(0, 1)
			.map(text => ({text: chatText(text), optional: 5})),
	];
}

/** `thumb, index, middle, ring, little, stick x, stick y and buttons 1 to 2`. */
function namesInOrder(channels: readonly ChannelView[]): string {
	const buttons = channels.filter(({role, name}) => role === 'button' && /^button-\d+$/.test(name));
	const others = channels.filter(channel => !buttons.includes(channel));
	const shown = others.slice(0, 12).map(({name}) => chatText(name.replace(/^stick-/, 'stick ')));
	if (others.length > shown.length) shown.push(`${others.length - shown.length} more`);
	if (buttons.length === 1) shown.push('a button');
	if (buttons.length > 1) shown.push(`${buttons.length === 2 ? 'two' : buttons.length} buttons`);
	return listText(shown);
}

function foundParts(weighing: readonly Finding[], snapshot: Snapshot, info: ReadInfo): Part[][] {
	const first = itemAt(weighing, 0);
	const fault = findFault(first.code);
	const alike = weighing.filter(({code, channel}) => code === first.code && channel !== first.channel);
	const others = weighing.length - 1 - alike.length;
	const {step, expect, besides} = firstStep(first);
	const cautions = stepCautions(first.cautions, [`${step} — ${expect}`, ...besides]);
	const baud = typeof first.evidence.likelyBaud === 'number' ? first.evidence.likelyBaud : info.baud;
	return [
		[
			{text: `What I see: ${withFigure(first, snapshot.channels)}`},
			...(alike.length > 0 ? [{text: `The same goes for ${alikeText(alike, snapshot.channels)}.`, optional: 3}] : []),
			...(fault === undefined
				? []
				: [{text: `The usual cause: ${goOn(firstSentence(itemAt(fault.causes, 0)))}`, optional: 1}]),
		],
		[
			{text: `Do this first: ${plainStep(step)}`},
			{text: shouldText(step, expect)},
			...besides.map(text => ({text: `${fullStop(capital(text))}`, optional: 2})),
			...(cautions.length > 0 ? [{text: `\nCareful: ${cautions[0]}`}] : []),
			...cautions.slice(1).map(text => ({text, optional: 4})),
		],
		...(others > 0
			? [
					[
						{
							text: `I see ${others === 1 ? 'one more thing' : `${others} more things`}, which can wait: this may be the cause.`,
							optional: 3,
						},
					],
				]
			: []),
		sendPart('Then', toSendAfter(first, snapshot.channels), info, baud),
	];
}

/** Nothing weighs: what was there is over, or there was nothing; what is unproven is asked for. */
function soundParts(snapshot: Snapshot, info: ReadInfo): Part[][] {
	const {findings, channels, verdict} = snapshot;
	const over = findings.length === 0 ? [] : [{text: `${overText(findings, channels)}`, optional: 2}];
	if (verdict === 'pass')
		return [
			[{text: 'What I see: nothing is wrong, and every finger, stick axis and button has been seen to work.'}, ...over],
			[{text: 'There is nothing to do.'}],
		];
	const left = leftToProve(channels);
	const open = left.filter(({state}) => state === 'open');
	const still = left.filter(({state}) => state !== 'open');
	const send = toSendToProve(snapshot);
	return [
		[
			{text: 'What I see: nothing is wrong in this, but it does not show yet that all of the glove works.'},
			...(still.length > 0 ? [{text: `Not seen to work yet: ${listText(still.map(channelWords))}.`, optional: 1}] : []),
			...(open.length > 0
				? [{text: `Not wired yet, as it seems: ${listText(open.map(channelWords))}.`, optional: 1}]
				: []),
			...over,
		],
		...(send === undefined ? [] : [sendPart('Please', send, info, info.baud)]),
	];
}

function overText(findings: readonly Finding[], channels: readonly ChannelView[]): string {
	const latest = itemAt(
		[...findings].sort((a, b) => (b.to ?? 0) - (a.to ?? 0)),
		0,
	);
	return `Over by now (at ${secondsText(latest.to ?? latest.from)}): ${goOn(plainSummary(latest.summary, channels))}`;
}

function sendPart(when: string, send: ToSend, info: ReadInfo, baud: number | null): Part[] {
	const command = recordCommand(send, info, baud);
	const port = command.includes(' PORT ') ? '\nPORT is the name that this prints: glovebench ports' : '';
	return [
		{text: `${when} send me ${send.seconds} s in which you ${send.movement}. Record it with`},
		{text: `\n${command}`},
		{text: port, optional: 4},
		{text: '\nor copy as much from the serial monitor into a text file.', optional: 4},
	];
}

/** The first thing to do: its measurement, what it should read, and what the evidence says to do besides. */
function firstStep({advice}: Finding): {step: string; expect: string; besides: string[]} {
	const split = advice.map(text => text.split(' — '));
	const chosen = split.findIndex(([, expect]) => expect !== undefined && !/\bbelow:/.test(expect));
	if (chosen < 0) return {step: advice[0] ?? '', expect: '', besides: []};
	const [step = '', expect = ''] = split[chosen] ?? [];
	// Entries without a reading come from the evidence, such as the ends to write into the sheet.
	const besides = split.slice(0, chosen).flatMap(([text = '', reading]) => (reading === undefined ? [text] : []));
	return {step, expect, besides};
}

/** What a step begins with where it names what to look at instead of saying what to do, and the doing. */
const doings: readonly (readonly [begins: RegExp, doing: string])[] = [
	[/^(?:volts|resistance|supply voltage|cord travel)\b/i, 'measure the'],
	[/^highest\b/i, 'find the'],
	[/^bytes per line/i, 'work out'],
	[/^meter\b/i, 'put a'],
	[/^(?:latency|lamps|line load|counter|rest noise)\b/i, 'look at the'],
	[/^serial\.begin/i, 'look at'],
];

/** A condition before a step: `Unplugged:`, `Finger straight:`. */
const condition = /^([A-Z][^:?]{3,35}): (?=[a-z])/;

/** A step of the catalogue as something to do. */
function plainStep(step: string): string {
	const [before, name] = condition.exec(step) ?? [''];
	const rest = step.slice(before.length);
	const doing = doings.find(([begins]) => begins.test(rest))?.[1];
	const text = doing === undefined ? rest : `${doing} ${goOn(rest)}`;
	return fullStop(name === undefined ? goOn(text) : `${goOn(name)}: ${text}`);
}

function shouldText(step: string, expect: string): string {
	if (expect === '') return '';
	if (/^(?:all turn|follow|change)\b/.test(expect)) return fullStop(`They should ${goOn(expect)}`);
	if (/\b(?:volts|resistance|voltage|highest|line load|bytes per|latency)\b/i.test(step))
		return fullStop(`It should read: ${expect}`);
	return fullStop(step.endsWith('?') ? `It should say: ${expect}` : `You should see: ${expect}`);
}

function alikeText(findings: readonly Finding[], channels: readonly ChannelView[]): string {
	const named = findings.flatMap(({channel}) => channels.filter(({name}) => name === channel).map(channelWords));
	if (named.length === 0) return 'all fingers together';
	return named.length > 5 ? `${named.length} others` : listText(named);
}

/** A number and what it counts. */
const figureWithUnit =
	/\d[\d.,]* (?:%|s\b|ms\b|Hz\b|counts?\b|bytes\b|times\b|frames\b|levels\b|movements\b|presses\b|lines\b|kinks\b)/;

/** The summary, with one more figure of the evidence where it has none with a unit. */
function withFigure(finding: Finding, channels: readonly ChannelView[]): string {
	const summary = fullStop(plainSummary(finding.summary, channels));
	if (figureWithUnit.test(summary)) return summary;
	const told = Object.entries(finding.evidence).find(([name, value]) => typeof value === 'number' && hasUnit(name));
	const figure =
		told === undefined
			? `at ${secondsText(finding.from)}`
			: evidenceText(told[0], told[1]).replace(' % FS', ' % of full scale');
	return `${summary.replace(/\.$/, '')} (${figure}).`;
}

/** A cause says what it is in its first sentence; examples after it can be looked up. */
function firstSentence(text: string): string {
	return fullStop(text.replace(/(?<=\.) (?=[A-Z]).*/s, ''));
}
