import type {Guide} from '../bringup/guide.ts';
import type {Session} from '../session/session.ts';
import type {ChannelView, LinkView, Snapshot} from '../session/snapshot.ts';
import {findingKey, listedFindings} from './finding-rows.ts';
import type {GlovePicture, TrendPicture} from './glove-picture.ts';
import {LinkDelay} from './link-delay.ts';
import type {LiveGlove} from './live-glove.ts';
import {movedLast} from './moved-last.ts';
import type {Position} from './position-bar.ts';
import type {ReplayPlayer} from './replay-player.ts';
import {changed, steadySnapshot} from './steady-snapshot.ts';
import {fetchTrend, type ScreenSize, trendChannel, trendColumns} from './trend-window.ts';
import type {ViewState} from './view-state.ts';

/** One glove on the desk: live, or played from memory. */
export type Station = {
	readonly name: string;
	readonly kind: string;
	readonly baud: number | null;
} & (
	| {readonly live: LiveGlove; readonly guide?: Guide; readonly player?: undefined}
	| {readonly player: ReplayPlayer; readonly live?: undefined; readonly guide?: undefined}
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
	#pulled: string | null = null;
	/** State of each channel when it was looked at last; undefined before. */
	#states: ReadonlyMap<string, string> | undefined;
	#steps = 0;
	#marks = 0;

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

	/** Takes in the session's state. Tells how many bells that is worth: one = proven, step done or mark read, two = lost or faulty. */
	look(view: ViewState): 0 | 1 | 2 {
		const now = this.#session.snapshot();
		this.#silentFor = now.link.silentForSeconds;
		// Shown in tenths of a second.
		const late = this.#delay.take(now);
		this.#lateBy = late === null ? null : Math.round(10 * late) / 10;
		const held = view.mode === 'live' && view.held;
		if (!held || !this.#held) this.snapshot = now;
		this.#held = held;
		this.#pulled = movedLast(now, this.#pulled)?.name ?? this.#pulled;
		return this.#bellsFor(now);
	}

	#bellsFor({channels}: Snapshot): 0 | 1 | 2 {
		const before = this.#states;
		this.#states = new Map(channels.map(({name, state}) => [name, state]));
		const stepsBefore = this.#steps;
		const marksBefore = this.#marks;
		const guide = this.station.guide?.view;
		this.#steps = guide?.step ?? 0;
		this.#marks = guide?.marks ?? 0;
		if (before === undefined) return 0;
		const became = channels.filter(({name, state}) => before.has(name) && before.get(name) !== state);
		if (became.some(({state}) => state === 'lost' || state === 'faulty')) return 2;
		const isProven = ({name, state}: ChannelView) => state === 'proven' && before.get(name) !== 'faulty';
		const isDone = stepsBefore > 0 && this.#steps > stepsBefore;
		return became.some(isProven) || isDone || this.#marks > marksBefore ? 1 : 0;
	}

	/** The picture the components draw. */
	picture(view: ViewState, size: ScreenSize, nowMs: number, notice: string | null): GlovePicture {
		const {snapshot, station} = this;
		const {live} = station;
		const steady = this.#steadyPart(view, nowMs);
		const channel = trendChannel(snapshot, view.channel, this.#pulled);
		const columns = trendColumns(snapshot, view, size);
		// A calm pace is for a line that grows: another page, size or time is drawn at once.
		const asked = [view.page, channel, ...view.pinned, view.trendSeconds, view.trendEnd, columns].join(' ');
		const jumped = Math.abs(snapshot.t - this.#trendAt) > 1 || snapshot.channels.length !== this.#trendChannels;
		if (nowMs >= this.#trendDueMs || asked !== this.#trendAsked || jumped) {
			this.#trendAsked = asked;
			this.#trendAt = snapshot.t;
			this.#trendChannels = snapshot.channels.length;
			this.#trend = fetchTrend(this.#session, snapshot, view, columns, channel);
			this.#trendDueMs = nowMs + (snapshot.handMoving ? columnMs(this.#trend) : restingTrendMs);
		}

		this.#live = changed(steadySnapshot(this.#live, snapshot), {link: steady.link});
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
			pulled: this.#pulled,
			guide: station.guide?.view ?? null,
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

		this.#steady = changed(next, {link: this.#link ?? link});
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
