import type {Features} from '../features/features.ts';
import {TickHistory} from '../features/link/tick-history.ts';
import type {Channel} from '../framing/layout.ts';
import {movesOf, noMoves} from './channel-moves.ts';
import {checkRows} from './check-rows.ts';
import type {Session} from './session.ts';
import type {ButtonView, ChannelView, CheckRow, LinkView, Snapshot, StickView} from './snapshot.ts';
import {calmNotes, verdictOf, withMended} from './verdict.ts';

/** A channel that moved this lately is shown as moving, seconds. */
const movingSeconds = 0.5;

/** The rate that is shown as now's is taken over so many seconds. */
const recentSeconds = 2;

/** Gathers the state of a session into one immutable value. */
export function takeSnapshot(session: Session): Snapshot {
	const {features, t} = session;
	const channels = features.layout.channels.map(channel => viewChannel(session, channel, t));
	const findings = withMended(session, session.findings);
	let rows: readonly CheckRow[] | undefined;
	return {
		t,
		layout: session.layoutNow,
		link: viewLink(session),
		channels,
		stick: viewStick(features),
		handMoving: channels.some(channel => channel.role === 'finger' && channel.moving),
		findings,
		events: [...session.events],
		marks: [...session.marks],
		// Several times the work of all the rest, and most snapshots are taken for something else.
		get checks() {
			rows ??= checkRows(session);
			return rows;
		},
		notes: calmNotes(channels, findings),
		takenOut: session.takenOut,
		verdict: verdictOf(findings, channels, session.link.frames),
	};
}

function viewChannel(session: Session, channel: Channel, t: number): ChannelView {
	const {features} = session;
	const {history} = features;
	const state = session.channelStates.of(features, channel, session.book);
	const now = history.count > 0 ? history.reading(history.count - 1, channel.index) : Number.NaN;
	const moves = movesOf(features, channel);
	const {hand, nameOnHand} = channel;
	const base = {
		index: channel.index,
		name: channel.name,
		role: channel.role,
		...(hand !== undefined && {hand}),
		...(nameOnHand !== undefined && {nameOnHand}),
		now,
		state,
		...moves,
	};
	if (channel.role === 'button') return {...plain(now), ...base, ...viewButton(features, channel)};
	if (channel.role !== 'finger' && channel.role !== 'stick') return {...plain(now), ...base};
	const {analog} = features;
	const a = features.placeOf[channel.index];
	const full = features.scale.fullScale;
	const moments = analog.moments[a];
	const moved = analog.movedAt[a];
	const moving = !Number.isNaN(moved) && t - moved < movingSeconds;
	const span = moments.count === 0 ? null : analog.spans.of(a);
	return {
		...base,
		fullScale: full,
		min: moments.count === 0 ? Number.NaN : analog.lowest[a],
		max: moments.count === 0 ? Number.NaN : analog.highest[a],
		mean: moments.count === 0 ? Number.NaN : moments.mean,
		span,
		usableLow: Number.isNaN(analog.spans.low[a]) ? null : analog.spans.low[a],
		usableHigh: Number.isNaN(analog.spans.high[a]) ? null : analog.spans.high[a],
		restNoise: analog.restNoise(a) ?? null,
		moving,
		learnedUntil: Number.isNaN(features.ranges.until[a]) ? null : features.ranges.until[a],
		lastMovedAt: !Number.isNaN(moved) ? moved : null,
		activity: activity(features, channel.index, t),
		button: null,
	};
}

/** Range of the last half second as a share of full scale. */
function activity(features: Features, column: number, t: number): number {
	const {history, scale} = features;
	let low = Number.POSITIVE_INFINITY;
	let high = Number.NEGATIVE_INFINITY;
	for (let frame = history.firstAt(t - 0.5); frame < history.count; frame++) {
		const reading = history.reading(frame, column);
		if (reading < low) low = reading;
		if (reading > high) high = reading;
	}
	return high > low ? Math.min(1, (high - low) / scale.fullScale) : 0;
}

function plain(now: number): Omit<ChannelView, 'index' | 'name' | 'role' | 'now' | 'state'> {
	return {
		fullScale: null,
		min: now,
		max: now,
		mean: now,
		span: null,
		usableLow: null,
		usableHigh: null,
		restNoise: null,
		moving: false,
		learnedUntil: null,
		lastMovedAt: null,
		activity: 0,
		button: null,
		...noMoves,
	};
}

function viewButton(features: Features, channel: Channel): Partial<ChannelView> {
	const button = features.buttons[features.placeOf[channel.index]];
	const view: ButtonView = {
		pressed: button.state !== -1 && button.state !== button.usual,
		presses: button.presses,
		shortestPressMs: Number.isFinite(button.shortestPressSeconds) ? button.shortestPressSeconds * 1000 : null,
		bounces: button.bouncedTouches,
	};
	return {
		min: button.lowest,
		max: button.highest,
		mean:
			(button.highSeconds * button.highest + button.lowSeconds * button.lowest) /
			Math.max(1e-9, button.highSeconds + button.lowSeconds),
		fullScale: 1,
		lastMovedAt: button.edges > 0 ? button.lastEdgeAt : null,
		button: view,
	};
}

function viewLink(session: Session): LinkView {
	const {link, t} = session;
	const timed = link.isTimed;
	const duration = link.lastFrameAt - link.firstFrameAt;
	const {ticks, intervals, losses, outages} = link;
	const ms = (p: number): number => 1000 * (intervals.quantile(p) ?? 0);
	const usual = intervals.quantile(0.5) ?? 0;
	const seen = link.lastByteAt - link.firstByteAt;
	const bytesPerSecond = timed && seen > 0 ? link.bytes / seen : null;
	const recent = Math.min(recentSeconds, ticks.count * TickHistory.seconds);
	const counted = losses.countedEver[0];
	const lost = losses.lostEver[0];
	return {
		frames: link.frames,
		bytes: link.bytes,
		badLines: link.badLines,
		strayLines: link.strayLines,
		framesPerSecond: timed && link.frames > 1 && duration > 0 ? (link.frames - 1) / duration : null,
		recentFramesPerSecond: timed && recent > 0 ? ticks.total(ticks.frames, recent) / recent : null,
		intervalMs:
			timed && intervals.total > 0
				? {median: ms(0.5), p95: ms(0.95), p99: ms(0.99), max: 1000 * intervals.largest}
				: null,
		jitterMs: timed && intervals.total > 0 ? 1000 * link.spacing.jitter : null,
		bytesPerSecond,
		lineLoad: bytesPerSecond !== null && link.baud !== null ? (10 * bytesPerSecond) / link.baud : null,
		lost: counted > 0 ? lost : null,
		lostPercent: counted > 0 ? (100 * lost) / (lost + counted) : null,
		worstWindow: Number.isNaN(losses.worstShare[0])
			? null
			: {from: losses.worstFrom[0], to: losses.worstTo[0], lostPercent: 100 * losses.worstShare[0]},
		outages: outages.count(usual),
		longestOutageMs: outages.count(usual) > 0 ? 1000 * outages.longest(usual) : null,
		lastBadLine: link.lastBadLine === '' ? null : link.lastBadLine,
		silentForSeconds: link.bytes === 0 ? t : t - link.lastByteAt,
		intervalHistogram: timed ? [...link.histogram] : [],
	};
}

function viewStick(features: Features): StickView | null {
	const {stick} = features;
	if (stick === null) return null;
	const restX = stick.restPoint('x');
	const restY = stick.restPoint('y');
	return {
		x: features.analogName(stick.x),
		y: features.analogName(stick.y),
		restX: restX ?? null,
		restY: restY ?? null,
		reach: [...stick.reach],
		deadZone: deadZone(features),
	};
}

/** Radius around the rest point that holds every release and three times the rest noise, counts. */
function deadZone(features: Features): number | null {
	const {stick, analog, scale} = features;
	if (stick === null || stick.releaseCount === 0) return null;
	const reach = 0.25 * scale.fullScale;
	const x = stick.releases('x', reach);
	const y = stick.releases('y', reach);
	const restX = stick.restPoint('x') ?? 0;
	const restY = stick.restPoint('y') ?? 0;
	let radius = 0;
	for (let i = 0; i < x.length; i++) radius = Math.max(radius, Math.hypot(x[i] - restX, y[i] - restY));
	return radius + 3 * Math.max(analog.restNoise(stick.x) ?? 0, analog.restNoise(stick.y) ?? 0);
}
