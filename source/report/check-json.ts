import type {Channel, ChannelRole, Framing} from '../framing/layout.ts';
import type {ChannelState} from '../session/channel-states.ts';
import {isCut} from '../session/cut-text.ts';
import type {ReadInfo} from '../session/run-session.ts';
import type {ChannelView, CheckRow, Finding, LinkView, Snapshot, Verdict} from '../session/snapshot.ts';
import type {SourceKind} from '../stream/source.ts';
import type {Timing} from '../stream/source-item.ts';
import {spellHidden} from '../text/escape-text.ts';
import {significant} from '../text/round-figures.ts';
import {tool} from '../version.ts';
import {intakeOf, readAsText} from './intake-text.ts';

/** One finding as it is printed: a session's finding as it stands. */
export type FindingJson = Finding & {readonly hand?: NonNullable<Channel['hand']>};

/** The link's figures over the whole session. */
export type LinkJson = Pick<
	LinkView,
	| 'frames'
	| 'bytes'
	| 'badLines'
	| 'framesPerSecond'
	| 'intervalMs'
	| 'jitterMs'
	| 'bytesPerSecond'
	| 'lineLoad'
	| 'lost'
	| 'lostPercent'
	| 'worstWindow'
	| 'outages'
	| 'longestOutageMs'
>;

/** How the source was read: what as what, what was left out, what looked odd, and calm lines that are no findings. */
type IntakeJson = {
	readonly lines: readonly string[];
	readonly leftOut: readonly {readonly what: string; readonly lines: number}[];
	readonly odd: readonly string[];
	readonly notes: readonly string[];
};

type SourceJson = {
	readonly kind: SourceKind;
	readonly name: string;
	readonly durationSeconds: number;
	readonly timing: Timing;
	/** The recording breaks off. */
	readonly cut: boolean;
};

/** What `check --json` prints: schema 2, described field by field in docs/schemas/check.schema.json. */
export type CheckJson = {
	readonly schema: 2;
	readonly kind: 'check';
	readonly tool: {readonly name: string; readonly version: string};
	readonly source: SourceJson;
	readonly intake: IntakeJson;
	readonly sessions: readonly {
		readonly index: number;
		readonly from: number;
		readonly to: number;
		readonly verdict: Verdict;
		readonly findings: number;
	}[];
	readonly layout: {
		readonly framing: Framing;
		readonly separator: string | null;
		readonly channels: readonly {
			readonly index: number;
			readonly name: string;
			readonly role: ChannelRole;
			readonly fullScale: number | null;
			readonly readAs: string;
			readonly hand: 'left' | 'right' | 'a' | 'b' | null;
		}[];
	};
	readonly link: LinkJson;
	readonly channels: readonly {
		readonly name: string;
		/** Only where the stream carries two hands. */
		readonly hand?: 'left' | 'right' | 'a' | 'b';
		readonly role: ChannelRole;
		readonly state: ChannelState;
		readonly min: number | null;
		readonly max: number | null;
		readonly mean: number | null;
		readonly restNoise: number | null;
		readonly span: number | null;
		readonly learnedUntil: number | null;
	}[];
	readonly checks: readonly (CheckRow & {readonly hand?: NonNullable<Channel['hand']>})[];
	readonly findings: readonly FindingJson[];
	readonly verdict: Verdict;
};

/** Figures kept of a measured number: beyond what any of the measurements is good for. */
const digits = 6;

function rounded(value: number | null): number | null {
	return value === null || !Number.isFinite(value) ? null : significant(value, digits);
}

type OnHand = {readonly channel: string; readonly hand: NonNullable<Channel['hand']>};

/** What each channel is called on its hand, by its name in the session; empty where a stream carries one hand. */
type HandNames = ReadonlyMap<string, OnHand>;

export function handNames(layout: Snapshot['layout']): HandNames {
	const names = new Map<string, OnHand>();
	for (const {name, hand, nameOnHand} of layout?.channels ?? []) {
		if (hand !== undefined) names.set(name, {channel: nameOnHand ?? name, hand});
	}

	return names;
}

/** A channel's name as it is printed: that on its hand, and the hand, where there are two. */
export function onHand(channel: string | null, hands: HandNames): {channel: string | null; hand?: OnHand['hand']} {
	return (channel === null ? undefined : hands.get(channel)) ?? {channel};
}

/** A finding as it is printed. Its numbers are those of the session, to the digit. */
export function findingJson(finding: Finding, hands: HandNames): FindingJson {
	const {code, channel, status, first, from, flaggedAt, to, spans, mended} = finding;
	const {confidence, summary, evidence, advice, cautions} = finding;
	return {
		code,
		...onHand(channel, hands),
		status,
		first,
		from,
		flaggedAt,
		to,
		spans,
		mended,
		confidence,
		summary,
		evidence,
		advice,
		cautions,
	};
}

/** The link's figures as they are printed. */
export function linkJson(link: LinkView): LinkJson {
	const {intervalMs, worstWindow} = link;
	return {
		frames: link.frames,
		bytes: link.bytes,
		badLines: link.badLines,
		framesPerSecond: rounded(link.framesPerSecond),
		intervalMs: intervalMs && {
			median: significant(intervalMs.median, digits),
			p95: significant(intervalMs.p95, digits),
			p99: significant(intervalMs.p99, digits),
			max: significant(intervalMs.max, digits),
		},
		jitterMs: rounded(link.jitterMs),
		bytesPerSecond: rounded(link.bytesPerSecond),
		lineLoad: rounded(link.lineLoad),
		lost: link.lost,
		lostPercent: rounded(link.lostPercent),
		worstWindow: worstWindow && {
			from: significant(worstWindow.from, digits),
			to: significant(worstWindow.to, digits),
			lostPercent: significant(worstWindow.lostPercent, digits),
		},
		outages: link.outages,
		longestOutageMs: rounded(link.longestOutageMs),
	};
}

/** The stream's layout as it is printed. */
export function layoutJson(snapshot: Snapshot): CheckJson['layout'] {
	const {layout} = snapshot;
	return {
		framing: layout?.framing ?? 'text',
		separator: layout?.separator ?? null,
		channels: snapshot.channels.map(({index, name, role, fullScale}) => ({
			index,
			name: layout?.channels[index]?.nameOnHand ?? name,
			role,
			fullScale,
			readAs: readAsText(layout?.channels[index] ?? {}),
			hand: layout?.channels[index]?.hand ?? null,
		})),
	};
}

function channelJson(channel: ChannelView, hands: HandNames): CheckJson['channels'][number] {
	const {name, role, state, min, max, mean, restNoise, span, learnedUntil} = channel;
	const own = onHand(name, hands);
	return {
		name: own.channel ?? name,
		...(own.hand !== undefined && {hand: own.hand}),
		role,
		state,
		min: rounded(min),
		max: rounded(max),
		mean: rounded(mean),
		restNoise: rounded(restNoise),
		span: rounded(span),
		learnedUntil,
	};
}

function tenthsOfMs(seconds: number): number {
	return Math.round(seconds * 1e4) / 1e4;
}

/** Schema 2 of a session that is over. */
export function checkJson(snapshot: Snapshot, info: ReadInfo): CheckJson {
	const {verdict, findings, events, notes} = snapshot;
	const durationSeconds = tenthsOfMs(info.wholeSeconds ?? snapshot.t);
	const {lines, leftOut, odd} = intakeOf(snapshot, info);
	const hands = handNames(snapshot.layout);
	return {
		schema: 2,
		kind: 'check',
		tool: {name: tool.name, version: tool.version},
		source: {
			kind: info.kind,
			name: info.name,
			durationSeconds,
			timing: info.timing,
			cut: isCut(events),
		},
		intake: {lines, leftOut, odd, notes},
		sessions: (info.sessions ?? [{index: 1, from: 0, to: durationSeconds, verdict, findings: findings.length}]).map(
			({index, from, to, verdict: own, findings: count}) => ({
				index,
				from: tenthsOfMs(from),
				to: tenthsOfMs(to),
				verdict: own,
				findings: count,
			}),
		),
		layout: layoutJson(snapshot),
		link: linkJson(snapshot.link),
		channels: snapshot.channels.map(channel => channelJson(channel, hands)),
		checks: hands.size === 0 ? snapshot.checks : snapshot.checks.map(row => ({...row, ...onHand(row.channel, hands)})),
		findings: findings.map(finding => findingJson(finding, hands)),
		verdict,
	};
}

/**
 * JSON that is safe to show in a terminal: what `JSON.stringify` lets through of control characters (DEL, C1) and of
 * characters that hide or turn text around is written as `\u….`; the value is the same.
 */
export function terminalSafeJson(value: unknown, indent?: number): string {
	return spellHidden(JSON.stringify(value, null, indent), codePoint =>
		[...utf16(codePoint)].map(unit => `\\u${unit.toString(16).padStart(4, '0')}`).join(''),
	);
}

/** JSON knows escapes of four digits only: characters beyond them are written as their halves (RFC 8259 section 7). */
function* utf16(codePoint: number): Generator<number> {
	const text = String.fromCodePoint(codePoint);
	for (let i = 0; i < text.length; i++) yield text.charCodeAt(i);
}
