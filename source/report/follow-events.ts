import {isCut} from '../session/cut-text.ts';
import type {Session} from '../session/session.ts';
import type {Finding, Snapshot} from '../session/snapshot.ts';
import type {SourceInfo} from '../stream/source.ts';
import {tool} from '../version.ts';
import {
	type CheckJson,
	type FindingJson,
	findingJson,
	handNames,
	type LinkJson,
	layoutJson,
	linkJson,
	onHand,
} from './check-json.ts';
import {notJudgedText} from './not-judged-text.ts';

/** One line of `check --follow --json`. `t` is stream time in seconds. Schema 2, described in docs/check-json.md. */
export type FollowEvent =
	| {
			readonly event: 'start';
			readonly t: 0;
			readonly schema: 2;
			readonly kind: 'check-events';
			readonly tool: CheckJson['tool'];
			readonly source: Omit<CheckJson['source'], 'durationSeconds' | 'cut'>;
	  }
	| {readonly event: 'layout'; readonly t: number; readonly layout: CheckJson['layout']}
	| {
			readonly event: 'finding-opened' | 'finding-updated' | 'finding-closed';
			readonly t: number;
			readonly finding: FindingJson;
	  }
	| {
			/** It turned out to be something else; a finding opened beside it says what. */
			readonly event: 'finding-withdrawn';
			readonly t: number;
			readonly code: string;
			readonly channel: string | null;
	  }
	| {readonly event: 'link'; readonly t: number; readonly link: LinkJson}
	| {readonly event: 'source-event'; readonly t: number; readonly what: string; readonly detail: string | null}
	| {readonly event: 'mark'; readonly t: number; readonly mark: string}
	| {
			readonly event: 'end';
			readonly t: number;
			readonly verdict: CheckJson['verdict'];
			readonly findings: number;
			/** What waits for a movement, in a line; empty where nothing does. */
			readonly notJudged: string;
			/** The recording breaks off. */
			readonly cut: boolean;
	  };

const keyOf = ({code, channel}: Finding) => `${code} ${channel ?? ''}`;

const sameFigures = (a: Finding, b: Finding) =>
	a.status === b.status &&
	a.first === b.first &&
	a.mended === b.mended &&
	a.summary === b.summary &&
	a.confidence === b.confidence &&
	JSON.stringify(a.evidence) === JSON.stringify(b.evidence);

/** Turns the states of a session into what happened between them. */
export class FollowEvents {
	private known = new Map<string, Finding>();
	private layout: Snapshot['layout'] = null;
	private eventCount = 0;
	private markCount = 0;
	private nextSecond = 1;

	/** The first event of every stream. */
	start(info: SourceInfo): FollowEvent {
		const {kind, name, timing} = info;
		return {
			event: 'start',
			t: 0,
			schema: 2,
			kind: 'check-events',
			tool: {name: tool.name, version: tool.version},
			source: {kind, name, timing},
		};
	}

	/**
	 * What happened since the last call. Openings and closings come at once; changed figures of a finding and the link
	 * summary once a second of stream time.
	 */
	update(session: Pick<Session, 'snapshot'>): FollowEvent[] {
		const snapshot = session.snapshot();
		// Whole thousandths: the grid of stream time in tenths is not exact in binary.
		const t = Math.round(snapshot.t * 1000) / 1000;
		const isSecond = t >= this.nextSecond;
		const events: FollowEvent[] = [];
		if (snapshot.layout !== this.layout && snapshot.layout !== null) {
			events.push({event: 'layout', t, layout: layoutJson(snapshot)});
		}

		this.layout = snapshot.layout;
		for (const {event, detail, t: at} of snapshot.events.slice(this.eventCount)) {
			events.push({event: 'source-event', t: at, what: event, detail: detail ?? null});
		}

		for (const {mark, t: at} of snapshot.marks.slice(this.markCount)) events.push({event: 'mark', t: at, mark});
		this.eventCount = snapshot.events.length;
		this.markCount = snapshot.marks.length;
		events.push(...this.findingEvents(snapshot.findings, t, isSecond));
		if (isSecond) {
			events.push({event: 'link', t, link: linkJson(snapshot.link)});
			this.nextSecond = Math.floor(t) + 1;
		}

		return events;
	}

	/** The last event of every stream. */
	end(snapshot: Snapshot): FollowEvent {
		const {t, verdict, findings, events} = snapshot;
		return {
			event: 'end',
			t,
			verdict,
			findings: findings.length,
			notJudged: notJudgedText(snapshot),
			cut: isCut(events),
		};
	}

	private findingEvents(findings: readonly Finding[], t: number, isSecond: boolean): FollowEvent[] {
		const events: FollowEvent[] = [];
		const present = new Set<string>();
		const hands = handNames(this.layout);
		for (const finding of findings) {
			const key = keyOf(finding);
			present.add(key);
			const before = this.known.get(key);
			const wasOpen = before !== undefined && before.to === null;
			const opened = !before || finding.spans.length > before.spans.length;
			const closed = finding.to !== null && (opened || wasOpen);
			const updated = isSecond && before !== undefined && !opened && !closed && !sameFigures(before, finding);
			// The old figures stay known until the change has been told.
			if (!opened && !closed && !updated && before !== undefined && before.to === finding.to) continue;
			this.known.set(key, finding);
			if (opened) events.push({event: 'finding-opened', t, finding: findingJson(finding, hands)});
			else if (!closed) events.push({event: 'finding-updated', t, finding: findingJson(finding, hands)});
			if (closed) events.push({event: 'finding-closed', t, finding: findingJson(finding, hands)});
		}

		for (const [key, finding] of this.known) {
			if (present.has(key)) continue;
			this.known.delete(key);
			events.push({event: 'finding-withdrawn', t, code: finding.code, ...onHand(finding.channel, hands)});
		}

		return events;
	}
}
