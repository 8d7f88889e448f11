import type {GatheredRun} from '../fit/gather-source.ts';
import {notJudgedText} from '../report/not-judged-text.ts';
import {cutText} from '../session/cut-text.ts';
import {leftToProveText} from '../session/left-to-prove.ts';
import type {Verdict} from '../session/snapshot.ts';
import type {SourceInfo} from '../stream/source.ts';
import {channelChanges} from './channel-changes.ts';
import {type ChannelFigures, channelFigures} from './channel-figures.ts';
import {type ComparedFindings, compareFindings} from './compare-findings.ts';
import {type ComparisonVerdict, judge} from './judge.ts';

/** One of the two sessions. */
export type Side = {
	readonly name: string;
	readonly kind: SourceInfo['kind'];
	readonly seconds: number;
	readonly frames: number;
	readonly fullScale: number;
	/** null where the source has no times. */
	readonly framesPerSecond: number | null;
	readonly jitterMs: number | null;
	readonly longestGapMs: number | null;
	/** Share of the lines that were damaged, 0…1. */
	readonly badLineShare: number;
	readonly verdict: Verdict;
	/** Why it is not whole, in a sentence; empty where it is. */
	readonly cut: string;
	/** What is left to prove and what to move for it, in words; empty where every channel is proven. */
	readonly leftToProve: string;
	/** The checks that wait for a movement, in a sentence; empty where none does. */
	readonly notJudged: string;
};

/** One channel in both sessions; null where that one has no channel of the name. */
export type ComparedChannel = {
	readonly name: string;
	readonly a: ChannelFigures | null;
	readonly b: ChannelFigures | null;
};

/** Two sessions side by side. */
export type Comparison = {
	readonly a: Side;
	readonly b: Side;
	readonly channels: readonly ComparedChannel[];
	readonly findings: ComparedFindings;
	/** What differs by more than chance, in sentences, most telling first. */
	readonly changes: readonly string[];
	readonly verdict: ComparisonVerdict;
};

/** Compares two finished sessions, channels by name. */
export function compareRuns(runA: GatheredRun, runB: GatheredRun): Comparison {
	const a = sideOf(runA);
	const b = sideOf(runB);
	const figuresA = channelFigures(runA);
	const figuresB = channelFigures(runB);
	const names = [...new Set([...figuresA, ...figuresB].map(({name}) => name))];
	const channels = names.map(name => ({
		name,
		a: figuresA.find(each => each.name === name) ?? null,
		b: figuresB.find(each => each.name === name) ?? null,
	}));
	const findings = compareFindings(
		{findings: runA.snapshot.findings, seconds: a.seconds},
		{findings: runB.snapshot.findings, seconds: b.seconds, channels: figuresB},
	);
	const changes = channelChanges(channels, a, b);
	return {a, b, channels, findings, changes, verdict: judge(findings, changes, channels)};
}

function sideOf({snapshot, info, gathered}: GatheredRun): Side {
	const {link} = snapshot;
	return {
		name: info.name,
		kind: info.kind,
		seconds: snapshot.t,
		frames: link.frames,
		fullScale: gathered.features.scale.fullScale,
		framesPerSecond: link.framesPerSecond,
		jitterMs: link.jitterMs,
		longestGapMs: link.intervalMs?.max ?? null,
		badLineShare: link.badLines / Math.max(1, link.badLines + link.frames),
		verdict: snapshot.verdict,
		cut: cutText(snapshot.events, info.name),
		leftToProve: leftToProveText(snapshot.channels),
		notJudged: notJudgedText(snapshot),
	};
}
