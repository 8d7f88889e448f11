import {adviceFor} from '../faults/advice.ts';
import type {Fault, Sign, Verdict} from '../faults/fault.ts';
import {winnersOver} from '../faults/precedence.ts';
import {findFault} from '../faults/registry.ts';
import type {Finding} from './snapshot.ts';

/** A finding that comes back within this time goes on; its spans are joined. */
const joinSeconds = 1;

/** A loser is overruled where its stretch comes this close to the winner's. */
const overlapSeconds = 2;

/** Far beyond what a pair of gloves can have: a stream that keeps renaming its channels must not fill the memory. */
const mostFindings = 1000;

/** Stretches told apart for one finding; what comes after them is told as one. */
const mostSpans = 1000;

type Entry = {
	readonly code: string;
	readonly channel: string | null;
	readonly flaggedAt: number;
	confidence: number;
	summary: string;
	evidence: Readonly<Record<string, number | string>>;
	advice: readonly string[];
	spans: [from: number, to: number | null][];
};

/** What has been found so far: opens, updates and closes findings, and lets one cause give one finding. */
export class FindingBook {
	private entries: Entry[] = [];
	/** Rises with every change, so that a screen can tell at a glance. */
	changes = 0;

	/** Notes a detector's verdict given at stream time `now`. Answers true where a finding was newly flagged. */
	note(fault: Fault, channel: string | null, verdict: Verdict, now: number): boolean {
		const entry = this.find(fault.code, channel);
		if (verdict === undefined) return false;
		if (verdict === 'never') {
			if (entry && entry.spans[entry.spans.length - 1][1] === null) this.remove(entry);
			return false;
		}
		if (verdict === 'gone') {
			if (entry) this.finish(entry, now);
			return false;
		}
		if (this.overruled(fault.code, channel, verdict.from, now)) {
			if (entry && this.isOpen(entry)) this.remove(entry);
			return false;
		}
		if (entry === undefined) {
			if (this.entries.length >= mostFindings) return false;
			this.open(fault, channel, verdict, now);
			return true;
		}
		this.renew(entry, verdict);
		return false;
	}

	/** Withdraws whatever the table says another open finding explains. To be called when all detectors were asked. */
	settle(now: number): void {
		for (const entry of [...this.entries]) {
			const [from, to] = entry.spans[entry.spans.length - 1];
			if (this.overruled(entry.code, entry.channel, from, to ?? now)) this.remove(entry);
		}
	}

	isOpenOn(code: string, channel: string | null): boolean {
		const entry = this.find(code, channel);
		return entry !== undefined && this.isOpen(entry);
	}

	/** True where any open finding of failure or out-of-spec names the channel. */
	troubles(channel: string): boolean {
		return this.entries.some(entry => entry.channel === channel && this.isOpen(entry));
	}

	/** In order of `flaggedAt`; findings flagged together in the order in which they were raised. */
	list(): Finding[] {
		return this.entries
			.map((entry, order) => ({entry, order}))
			.sort((one, other) => one.entry.flaggedAt - other.entry.flaggedAt || one.order - other.order)
			.map(({entry}) => ({
				code: entry.code,
				channel: entry.channel,
				status: findFault(entry.code)?.status ?? 'function-check',
				from: round(entry.spans[0][0]),
				flaggedAt: round(entry.flaggedAt),
				to: roundOrNull(entry.spans[entry.spans.length - 1][1]),
				confidence: Math.round(entry.confidence * 100) / 100,
				summary: entry.summary,
				evidence: entry.evidence,
				advice: entry.advice,
				spans: entry.spans.map(([from, to]) => [round(from), roundOrNull(to)] as const),
			}));
	}

	private find(code: string, channel: string | null): Entry | undefined {
		for (const entry of this.entries) if (entry.code === code && entry.channel === channel) return entry;
		return undefined;
	}

	private isOpen(entry: Entry): boolean {
		return entry.spans[entry.spans.length - 1][1] === null;
	}

	private open(fault: Fault, channel: string | null, sign: Sign, now: number): void {
		this.entries.push({
			code: fault.code,
			channel,
			flaggedAt: sign.flaggedAt ?? now,
			confidence: sign.confidence,
			summary: sign.summary,
			evidence: sign.evidence,
			advice: [...(sign.advice ?? []), ...adviceFor(fault)],
			spans: [[sign.from, sign.to ?? null]],
		});
		this.changes++;
	}

	private renew(entry: Entry, sign: Sign): void {
		const last = entry.spans[entry.spans.length - 1];
		entry.confidence = Math.max(entry.confidence, sign.confidence);
		entry.summary = sign.summary;
		entry.evidence = sign.evidence;
		if (last[1] === null) {
			if (sign.to !== undefined) last[1] = sign.to;
			return;
		}
		// An event already noted comes with the same beginning.
		if (sign.to !== undefined && sign.from <= last[0] + 1e-9) return;
		if (sign.from - last[1] <= joinSeconds || entry.spans.length >= mostSpans) last[1] = sign.to ?? null;
		else entry.spans.push([sign.from, sign.to ?? null]);
		this.changes++;
	}

	private finish(entry: Entry, now: number): void {
		const last = entry.spans[entry.spans.length - 1];
		if (last[1] !== null) return;
		last[1] = now;
		this.changes++;
	}

	private remove(entry: Entry): void {
		this.entries = this.entries.filter(other => other !== entry);
		this.changes++;
	}

	/** Whether a winner's stretch comes near the stretch from `from` to `to` of a loser on this channel. */
	private overruled(code: string, channel: string | null, from: number, to: number): boolean {
		const winners = winnersOver.get(code);
		if (winners === undefined) return false;
		for (const entry of this.entries) {
			for (const [winner, where] of winners) {
				if (entry.code !== winner || (where === 'same' && entry.channel !== channel)) continue;
				for (const [begun, ended] of entry.spans) {
					if (from <= (ended ?? Number.POSITIVE_INFINITY) + overlapSeconds && to >= begun - overlapSeconds) return true;
				}
			}
		}
		return false;
	}
}

/** Stream times to a tenth of a millisecond: what the clocks are good for. */
function round(seconds: number): number {
	return Math.round(seconds * 1e4) / 1e4;
}

function roundOrNull(seconds: number | null): number | null {
	return seconds === null ? null : round(seconds);
}
