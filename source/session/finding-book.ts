import {adviceFor} from '../faults/advice.ts';
import type {Answer} from '../faults/ask.ts';
import {causeRank, hasCauses, mayExplain} from '../faults/causes.ts';
import type {Evidence} from '../faults/evidence.ts';
import type {Fault, Sign} from '../faults/fault.ts';
import type {Status} from '../faults/fault-code.ts';
import {statusRank} from '../faults/status-meanings.ts';
import {confidenceIn} from './confidence.ts';
import type {Finding} from './snapshot.ts';

/** A finding that comes back within this time goes on; its spans are joined. */
const joinSeconds = 1;

/** Signs of one cause are noticed up to so much apart: what comes this near to a cause's stretch is explained by it. */
const overlapSeconds = 2;

/** A cause is recognised within so many seconds of what it explains, or never: that is the longest that any check looks back. */
const lateSeconds = 60;

/** Two conditions that begin within this time of each other began together. */
const togetherSeconds = 1;

/** Far beyond what a pair of gloves can have: a stream that keeps renaming its channels must not fill the memory. */
const mostFindings = 1000;

/** Stretches told apart for one finding; what comes after them is told as one. */
const mostSpans = 1000;

/** From when to when a finding was there, seconds; null while it is. */
type Span = [from: number, to: number | null];

type Entry = {
	readonly fault: Fault;
	readonly channel: string | null;
	/** Order of channels in a frame, for findings that are equal otherwise. */
	readonly place: number;
	readonly flaggedAt: number;
	status: Status;
	confidence: number;
	summary: string;
	evidence: Evidence;
	advice: readonly string[];
	/** What the latest sign said to do, before the catalogue's advice. */
	ownAdvice: readonly string[] | undefined;
	/** When the evidence was last seen, for dating the end. */
	seenAt: number;
	spans: Span[];
};

/**
 * What has been found so far: opens, renews and closes findings, and lets one cause give one finding. What was confirmed
 * stays: a finding is closed when its evidence turns, and taken back only where a cause that began before it, and explains
 * the same readings, is recognised later than it.
 */
export class FindingBook {
	private entries: Entry[] = [];
	/** The one that is told first; see `settle`. */
	private first: Entry | null = null;
	/** Rises with every change, so that a screen can tell at a glance. */
	changes = 0;

	/**
	 * Notes what a check answered about a channel (null: the link) at stream time `now`; `place` orders channels. True where
	 * a finding was newly flagged.
	 */
	note(fault: Fault, channel: string | null, place: number, answer: Answer, now: number): boolean {
		const entry = this.find(fault.code, channel);
		if (answer.sign === null) {
			// Where a check no longer applies nothing can be said to go on.
			if (entry !== undefined && answer.state !== 'held') this.finish(entry, now);
			return false;
		}
		const sign = dated(answer.sign, now);
		if (this.causeOver(fault.code, channel, sign.from, sign.seenAt ?? sign.to ?? now) !== undefined) {
			if (entry !== undefined) this.finish(entry, now);
			return false;
		}
		const confidence = confidenceIn(answer);
		if (entry !== undefined) {
			this.renew(entry, sign, confidence, now);
			return false;
		}
		if (this.entries.length >= mostFindings) return false;
		this.open(fault, channel, place, sign, confidence, now);
		return true;
	}

	/** Lets causes that were recognised in this evaluation take over from what they explain. To be called after all checks. */
	settle(now: number): void {
		if (this.entries.length === 0 && this.first === null) return;
		for (const entry of [...this.entries]) if (hasCauses(entry.fault.code)) this.settleEntry(entry, now);
		this.chooseFirst();
	}

	private settleEntry(entry: Entry, now: number): void {
		for (let i = entry.spans.length - 1; i >= 0; i--) {
			const [from, to] = entry.spans[i];
			if (to !== null && to < now - lateSeconds) break;
			const cause = this.causeOver(entry.fault.code, entry.channel, from, to ?? entry.seenAt);
			if (cause === undefined) continue;
			// One that began later explains what comes from now on, not what was seen before it.
			if (cause <= from + togetherSeconds) this.removeSpan(entry, i);
			else if (to === null) this.finish(entry, now);
		}
	}

	/**
	 * Takes back what was found on channels of a layout (or by a scale) that turned out to be wrong. What was found on the link
	 * stays, and what was found on the channels of which it was right (`sound`) is closed: it is measured anew.
	 */
	dropLayout(sound: readonly string[], now: number): void {
		for (const entry of [...this.entries]) {
			if (entry.channel !== null && sound.includes(entry.channel)) this.finish(entry, now);
			else if (entry.channel !== null || entry.fault.scope !== 'link' || entry.fault.readsCounts === true)
				this.remove(entry);
		}
		this.chooseFirst();
	}

	/** Closes what is open on channels, or on one: an epoch is over, its evidence judges the next no more. */
	endEpoch(now: number, channel?: string): void {
		for (const entry of this.entries) {
			const isLink = entry.channel === null && entry.fault.scope === 'link';
			if (!isLink && (channel === undefined || entry.channel === channel)) this.finish(entry, now);
		}
	}

	/** Takes back what was flagged on a channel since a time, and closes the rest: its readings were no measure of anything. */
	withdraw(channel: string, since: number, now: number): void {
		for (const entry of [...this.entries]) {
			if (entry.channel !== channel) continue;
			if (entry.flaggedAt >= since) this.remove(entry);
			else this.finish(entry, now);
		}
	}

	isOpenOn(code: string, channel: string | null): boolean {
		const entry = this.find(code, channel);
		return entry !== undefined && isOpen(entry);
	}

	/** True while nothing has been found at all. */
	get isEmpty(): boolean {
		return this.entries.length === 0;
	}

	/** True where an open finding names the channel. */
	names(channel: string): boolean {
		for (const entry of this.entries) if (entry.channel === channel && isOpen(entry)) return true;
		return false;
	}

	/** True where a finding is open, or has been there and comes and goes by nature: then it may come again. */
	isTold({code, intermittent}: Fault, channel: string | null): boolean {
		const entry = this.find(code, channel);
		return entry !== undefined && (isOpen(entry) || intermittent === true);
	}

	/** True where an open finding of failure or out-of-spec names the channel; `but` a code that does not count. */
	troubles(channel: string, but?: string): boolean {
		return this.entries.some(
			entry =>
				entry.channel === channel &&
				entry.fault.code !== but &&
				isOpen(entry) &&
				(entry.status === 'failure' || entry.status === 'out-of-spec'),
		);
	}

	/** In order of `flaggedAt`; findings flagged together in the order in which they were raised. */
	list(): Finding[] {
		return this.entries
			.map((entry, order) => ({entry, order}))
			.sort((one, other) => one.entry.flaggedAt - other.entry.flaggedAt || one.order - other.order)
			.map(({entry}) => ({
				code: entry.fault.code,
				channel: entry.channel,
				status: entry.status,
				first: entry === this.first,
				from: round(entry.spans[0][0]),
				flaggedAt: round(entry.flaggedAt),
				to: roundOrNull(entry.spans[entry.spans.length - 1][1]),
				spans: entry.spans.map(([from, to]) => [round(from), roundOrNull(to)] as const),
				confidence: Math.round(entry.confidence * 100) / 100,
				summary: entry.summary,
				evidence: entry.evidence,
				advice: entry.advice,
				cautions: entry.fault.caution === undefined ? [] : [entry.fault.caution],
				mended: false,
			}));
	}

	private find(code: string, channel: string | null): Entry | undefined {
		for (const entry of this.entries) if (entry.fault.code === code && entry.channel === channel) return entry;
		return undefined;
	}

	private open(fault: Fault, channel: string | null, place: number, sign: Sign, confidence: number, now: number): void {
		this.entries.push({
			fault,
			channel,
			place,
			flaggedAt: sign.flaggedAt ?? now,
			status: sign.status ?? fault.status,
			confidence,
			summary: sign.summary,
			evidence: sign.evidence,
			advice: adviceOf(fault, sign),
			ownAdvice: sign.advice,
			seenAt: sign.seenAt ?? now,
			spans: [[sign.from, sign.to ?? null]],
		});
		this.changes++;
	}

	private renew(entry: Entry, sign: Sign, confidence: number, now: number): void {
		const last = entry.spans[entry.spans.length - 1];
		entry.confidence = Math.max(entry.confidence, confidence);
		entry.seenAt = sign.seenAt ?? now;
		const status = sign.status ?? entry.fault.status;
		if (status !== entry.status) this.changes++;
		entry.status = status;
		entry.summary = sign.summary;
		// The latest sign tells what to do, as it tells the rest; the catalogue's words stay as they are.
		if (sign.advice !== entry.ownAdvice) entry.advice = adviceOf(entry.fault, sign);
		entry.ownAdvice = sign.advice;
		entry.evidence = sign.evidence;
		if (last[1] === null) {
			if (sign.to !== undefined) last[1] = sign.to;
			return;
		}
		// An event already noted comes with the same beginning.
		if (sign.to !== undefined && sign.from <= last[0] + 1e-9) return;
		if (sign.from - last[1] <= joinSeconds || entry.spans.length >= mostSpans)
			last[1] = sign.to === undefined ? null : Math.max(last[1], sign.to);
		else entry.spans.push([sign.from, sign.to ?? null]);
		this.changes++;
	}

	/** Closes an open finding; it ended when its evidence was last seen. */
	private finish(entry: Entry, now: number): void {
		const last = entry.spans[entry.spans.length - 1];
		if (last[1] !== null) return;
		last[1] = Math.max(last[0], Math.min(now, entry.seenAt));
		this.changes++;
	}

	private remove(entry: Entry): void {
		this.entries = this.entries.filter(other => other !== entry);
		if (this.first === entry) this.first = null;
		this.changes++;
	}

	/** Takes back one stretch of a finding; without any it was none. */
	private removeSpan(entry: Entry, index: number): void {
		if (entry.spans.length === 1) this.remove(entry);
		else entry.spans.splice(index, 1);
		this.changes++;
	}

	/**
	 * When a cause began that explains what was seen on this channel from `from` to `seen`; undefined without one. Checks look
	 * back: what a cause that is over has left in their memory is still its. What outlasts it by as long as both were there
	 * stands by itself. What comes and goes stays open for a while after its last sign; what began in that while is no work of its.
	 */
	private causeOver(code: string, channel: string | null, from: number, seen: number): number | undefined {
		if (!hasCauses(code)) return undefined;
		for (const entry of this.entries) {
			if (!mayExplain(asFound(entry), code, channel)) continue;
			const span = entry.spans.find(one => coversWork(entry, one, from, seen));
			if (span !== undefined) return span[0];
		}
		return undefined;
	}

	/** The first stays first until it closes or a cause of it opens. */
	private chooseFirst(): void {
		const open = this.entries.filter(isOpen);
		const {first} = this;
		if (first !== null && isOpen(first) && !open.some(entry => isCauseOf(entry, first))) return;
		this.first = best(open.length > 0 ? open : this.entries);
	}
}

/** A sign that does not know when it began, or when it was last seen, is of now. */
function dated(sign: Sign, now: number): Sign {
	const {from, seenAt = now} = sign;
	if (!Number.isNaN(from) && !Number.isNaN(seenAt)) return sign;
	const seen = Number.isNaN(seenAt) ? now : seenAt;
	return {...sign, from: Number.isNaN(from) ? Math.min(seen, now) : from, seenAt: seen};
}

/** Whether what was seen from `from` to `seen` is the work of a cause in one of its stretches, or what that has left behind. */
function coversWork({fault, seenAt}: Entry, [begun, ended]: Span, from: number, seen: number): boolean {
	if (seen < begun - overlapSeconds) return false;
	if (ended === null) return fault.intermittent !== true || from <= seenAt + overlapSeconds;
	if (from > ended + overlapSeconds) return false;
	const together = ended - Math.max(from, begun);
	return seen - ended <= Math.max(overlapSeconds, Math.min(lateSeconds, together));
}

/** What the evidence says to do comes before what the catalogue says. */
function adviceOf(fault: Fault, sign: Sign): readonly string[] {
	return [...(sign.advice ?? []), ...adviceFor(fault)];
}

function isOpen(entry: Entry): boolean {
	return entry.spans[entry.spans.length - 1][1] === null;
}

function isCauseOf(entry: Entry, first: Entry): boolean {
	return mayExplain(asFound(entry), first.fault.code, first.channel);
}

function asFound({fault, channel, status}: Entry): {code: string; channel: string | null; status: Status} {
	return {code: fault.code, channel, status};
}

/** Nearest to the cause, then gravest, then earliest, then in scan order. */
function best(entries: readonly Entry[]): Entry | null {
	let found: Entry | null = null;
	for (const entry of entries) if (found === null || compare(entry, found) < 0) found = entry;
	return found;
}

function compare(one: Entry, other: Entry): number {
	return (
		causeRank(one.fault.code) - causeRank(other.fault.code) ||
		statusRank(one.status) - statusRank(other.status) ||
		one.spans[0][0] - other.spans[0][0] ||
		one.place - other.place
	);
}

/** Stream times to a tenth of a millisecond: what the clocks are good for. */
function round(seconds: number): number {
	return Math.round(seconds * 1e4) / 1e4;
}

function roundOrNull(seconds: number | null): number | null {
	return seconds === null ? null : round(seconds);
}
