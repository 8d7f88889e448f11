import type {ChannelRole, Framing} from '../framing/layout.ts';
import type {ChannelView, Finding, LinkView, Quantiles, Snapshot} from '../session/snapshot.ts';
import type {SourceInfo, SourceKind} from '../stream/source.ts';
import type {Timing} from '../stream/source-item.ts';
import {spellHidden} from '../text/escape-text.ts';
import {tool} from '../version.ts';
import {significant} from './figures-text.ts';

/** One finding in schema 1: a session's finding as it stands; `spans` lists every stretch in which it was there. */
export type FindingJson = Finding;

export type LinkJson = {
	readonly frames: number;
	readonly bytes: number;
	readonly badLines: number;
	readonly framesPerSecond: number | null;
	readonly intervalMs: Quantiles | null;
	readonly jitterMs: number | null;
	readonly bytesPerSecond: number | null;
	readonly lineLoad: number | null;
};

/** What `check --json` prints: schema 1, described field by field in docs/check.schema.json. */
export type CheckJson = {
	readonly schema: 1;
	readonly tool: {readonly name: string; readonly version: string};
	readonly source: {
		readonly kind: SourceKind;
		readonly name: string;
		readonly durationSeconds: number;
		readonly timing: Timing;
	};
	readonly layout: {
		readonly framing: Framing;
		readonly separator: string | null;
		readonly channels: readonly {
			readonly index: number;
			readonly name: string;
			readonly role: ChannelRole;
			readonly fullScale: number | null;
		}[];
	};
	readonly link: LinkJson;
	readonly channels: readonly {
		readonly name: string;
		readonly role: ChannelRole;
		readonly min: number | null;
		readonly max: number | null;
		readonly mean: number | null;
		readonly restNoise: number | null;
		readonly span: number | null;
		readonly proven: boolean;
	}[];
	readonly findings: readonly FindingJson[];
	readonly verdict: Snapshot['verdict'];
};

/** Figures kept of a measured number: beyond what any of the measurements is good for. */
const digits = 6;

function rounded(value: number | null): number | null {
	return value === null || !Number.isFinite(value) ? null : significant(value, digits);
}

/** A finding as it is printed. Its numbers are those of the session, to the digit. */
export function findingJson(finding: Finding): FindingJson {
	const {code, channel, status, from, flaggedAt, to, confidence, summary, evidence, advice, spans} = finding;
	return {code, channel, status, from, flaggedAt, to, confidence, summary, evidence, advice, spans};
}

/** The link's figures as they are printed. */
export function linkJson(link: LinkView): LinkJson {
	const {intervalMs} = link;
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
	};
}

/** The stream's layout as it is printed. */
export function layoutJson(snapshot: Snapshot): CheckJson['layout'] {
	const {layout} = snapshot;
	return {
		framing: layout?.framing ?? 'text',
		separator: layout?.separator ?? null,
		channels: snapshot.channels.map(({index, name, role, fullScale}) => ({index, name, role, fullScale})),
	};
}

function channelJson(channel: ChannelView): CheckJson['channels'][number] {
	const {name, role, min, max, mean, restNoise, span, proven} = channel;
	return {
		name,
		role,
		min: rounded(min),
		max: rounded(max),
		mean: rounded(mean),
		restNoise: rounded(restNoise),
		span: rounded(span),
		proven,
	};
}

/** Schema 1 of a session that is over. */
export function checkJson(snapshot: Snapshot, info: SourceInfo): CheckJson {
	return {
		schema: 1,
		tool: {name: tool.name, version: tool.version},
		source: {
			kind: info.kind,
			name: info.name,
			durationSeconds: Math.round(snapshot.t * 1e4) / 1e4,
			timing: info.timing,
		},
		layout: layoutJson(snapshot),
		link: linkJson(snapshot.link),
		channels: snapshot.channels.map(channelJson),
		findings: snapshot.findings.map(findingJson),
		verdict: snapshot.verdict,
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
