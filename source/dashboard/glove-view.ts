import type {Session} from '../session/session.ts';
import type {LinkView, Snapshot} from '../session/snapshot.ts';
import {movingNow} from './assembly-rows.ts';
import {findingKey, listedFindings} from './finding-rows.ts';
import type {GlovePicture, TrendPicture} from './glove-picture.ts';
import {LinkDelay} from './link-delay.ts';
import type {LiveGlove} from './live-glove.ts';
import type {Position} from './position-bar.ts';
import type {ReplayPlayer} from './replay-player.ts';
import {steadySnapshot} from './steady-snapshot.ts';
import {fetchTrend, type ScreenSize} from './trend-window.ts';
import type {ViewState} from './view-state.ts';

/** One glove on the desk: live, or played from memory. */
export type Station = {
	readonly name: string;
	readonly kind: string;
	readonly baud: number | null;
} & (
	| {readonly live: LiveGlove; readonly player?: undefined}
	| {readonly player: ReplayPlayer; readonly live?: undefined}
);

/** Numbers stand still for at least so long. */
const numbersHeldMs = 250;

/** The link's counters run on with every frame: off the link page they are shown as of so long ago. */
const countersHeldMs = 1000;

/** A chart of a resting hand grows by a flat line. */
const restingTrendMs = 1000;

/**
 * What is shown of one glove. Remembers what was shown last, so that figures stand still long enough to be read and
 * nothing flickers within its noise; and what stands still while the picture is held.
 */
export class GloveView {
	readonly station: Station;
	/** The state being shown: of now, or of when the picture was held. */
	snapshot: Snapshot;
	#silentFor = 0;
	readonly #delay = new LinkDelay();
	#lateBy: number | null = null;
	#live: Snapshot | undefined;
	#steady: Snapshot | undefined;
	#link: LinkView | undefined;
	#trend: TrendPicture | null = null;
	#steadyDueMs = Number.NEGATIVE_INFINITY;
	#linkDueMs = Number.NEGATIVE_INFINITY;
	#trendDueMs = Number.NEGATIVE_INFINITY;
	#trendAsked = '';
	#trendAt = Number.NEGATIVE_INFINITY;
	#trendChannels = 0;
	#held = false;
	#findings = 0;
	#moving: string | null = null;

	constructor(station: Station) {
		this.station = station;
		this.snapshot = this.#session.snapshot();
	}

	/** Everything shown is of now in the next picture: numbers, counters and trend too. */
	refresh(): void {
		this.#steadyDueMs = Number.NEGATIVE_INFINITY;
		this.#linkDueMs = Number.NEGATIVE_INFINITY;
		this.#trendDueMs = Number.NEGATIVE_INFINITY;
	}

	/** Takes in the session's state. True where there is news for the ear: a new finding, or another channel moves. */
	look(view: ViewState): boolean {
		const now = this.#session.snapshot();
		this.#silentFor = now.link.silentForSeconds;
		// Shown in tenths of a second.
		const late = this.#delay.take(now);
		this.#lateBy = late === null ? null : Math.round(10 * late) / 10;
		const held = view.mode === 'live' && view.held;
		if (!held || !this.#held) this.snapshot = now;
		this.#held = held;

		const newFinding = now.findings.length > this.#findings;
		this.#findings = now.findings.length;
		const moving = movingNow(now, this.#moving)?.name ?? this.#moving;
		const otherMoves = view.page === 'assembly' && moving !== this.#moving;
		this.#moving = moving;
		return newFinding || otherMoves;
	}

	/** The picture the components draw. */
	picture(view: ViewState, size: ScreenSize, nowMs: number, notice: string | null): GlovePicture {
		const {snapshot, station} = this;
		const {live} = station;
		const steady = this.#steadyPart(view, nowMs);
		// A calm pace is for a line that grows: another page, size or time is drawn at once.
		const asked = [
			view.page,
			view.channel,
			...view.pinned,
			view.trendSeconds,
			view.trendEnd,
			size.columns,
			size.rows,
		].join(' ');
		const jumped = Math.abs(snapshot.t - this.#trendAt) > 1 || snapshot.channels.length !== this.#trendChannels;
		if (nowMs >= this.#trendDueMs || asked !== this.#trendAsked || jumped) {
			this.#trendAsked = asked;
			this.#trendAt = snapshot.t;
			this.#trendChannels = snapshot.channels.length;
			this.#trend = fetchTrend(this.#session, snapshot, view, size);
			this.#trendDueMs = nowMs + (snapshot.handMoving ? columnMs(this.#trend) : restingTrendMs);
		}

		this.#live = {...steadySnapshot(this.#live, snapshot), link: steady.link};
		return {
			name: station.name,
			kind: station.kind,
			baud: station.baud,
			live: this.#live,
			steady,
			silentFor: live && live.over === null ? Math.floor(this.#silentFor) : null,
			lostFor: live?.lostFor == null ? null : Math.floor(live.lostFor),
			lateBy: this.#lateBy,
			recording: live?.recording ?? null,
			pulled: this.#moving,
			position: this.#position(view),
			trend: this.#trend,
			freezeFrame: this.#freezeFrame(view),
			over: live?.over ?? null,
			notice,
		};
	}

	get #session(): Session {
		return this.station.live?.session ?? this.station.player!.session;
	}

	#steadyPart(view: ViewState, nowMs: number): Snapshot {
		const {snapshot} = this;
		// A state from elsewhere, after a seek or another layout: then everything is of the new place.
		const last = this.#steady;
		const elsewhere = last === undefined || last.layout !== snapshot.layout || Math.abs(snapshot.t - last.t) > 2;
		if (last !== undefined && !elsewhere && nowMs < this.#steadyDueMs) return last;
		const next = steadySnapshot(elsewhere ? undefined : last, snapshot);
		const {link} = next;
		const linkNews = this.#link?.badLines !== link.badLines || this.#link.strayLines !== link.strayLines;
		if (elsewhere || linkNews || view.page === 'link' || nowMs >= this.#linkDueMs) {
			this.#link = link;
			this.#linkDueMs = nowMs + countersHeldMs;
		}

		this.#steady = {...next, link: this.#link ?? link};
		this.#steadyDueMs = nowMs + numbersHeldMs;
		return this.#steady;
	}

	#position({held, speed, loop}: ViewState): Position | null {
		const {player} = this.station;
		if (!player) return null;
		return {
			t: player.t,
			duration: player.duration,
			playing: !held,
			speed,
			loop,
			readTo: player.readTo,
			findings: player.findingsAhead.map(finding => finding.flaggedAt),
			marks: player.marks,
		};
	}

	#freezeFrame(view: ViewState): GlovePicture['freezeFrame'] {
		if (view.page !== 'findings') return null;
		const listed = listedFindings(this.snapshot);
		const selected = listed.find(finding => findingKey(finding) === view.finding) ?? listed[0];
		return selected ? (this.#session.freezeFrame(selected.code, selected.channel) ?? null) : null;
	}
}

/** A chart is drawn again when the next column begins, but neither faster than numbers nor slower than a second. */
function columnMs(trend: TrendPicture | null): number {
	const columns = trend?.series[0]?.buckets.length;
	if (trend === null || columns === undefined) return numbersHeldMs;
	return Math.max(numbersHeldMs, Math.min(1000, (1000 * (trend.to - trend.from)) / columns));
}
