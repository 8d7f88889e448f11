import type {Features} from './features.ts';

/** At an end of the scale: within this share of it. */
const railShare = 0.003;

/**
 * Near an end, where several fingers reach both: no pot on a reel uses more than nineteen twentieths of its track (cord and spool
 * would sit at the stops), firmware that scales does, at first a little short of the ends.
 */
const nearShare = 0.03;

/** A finger has shown where it ends once it has gone there and back. */
const waysShown = 2;

/** From so many fingers on, one that does not reach both ends may have a fault of its own (check-values D5.4, clipped-range). */
const oneLeftOutFrom = 4;

/** Tops that are alike between these shares of full scale may be a ceiling of the supply; outside them they are a firmware's. */
export const ceilingShares = {least: 0.5, most: 0.95} as const;

/** Fingers of one hand that reach both ends of the scale, of those that have shown where they end. */
type AtBothEnds = {readonly both: number; readonly of: number};

/** Counted over the hand of the channel at analog place `a`; the upper end is full scale, or the firmware's own top. */
export function fingersAtBothEnds(features: Features, a: number): AtBothEnds {
	const {analog, scale} = features;
	const {spans, trips} = analog;
	const band = nearShare * scale.fullScale;
	const shown = (features.handAt(a)?.fingers ?? []).filter(f => features.isFinger(f) && trips.count[f] >= waysShown);
	const tops = shown.map(f => spans.high[f]);
	const top = Math.max(...tops);
	const isOwnTop = isFirmwaresTop(features, top) && tops.filter(other => other === top).length > 1;
	const highest = isOwnTop ? top : scale.railHigh - band;
	const both = shown.filter(f => spans.low[f] <= scale.railLow + band && spans.high[f] >= highest);
	return {both: both.length, of: shown.length};
}

/** Whether so many at both ends say that the firmware puts them there. */
export function isFirmwares({both, of}: AtBothEnds): boolean {
	return both > 1 && (both === of || (of >= oneLeftOutFrom && both === of - 1));
}

/** How many other fingers share the hand's highest reading to the count, where that is a firmware's own end; else 0. */
export function othersAtFirmwaresTop(features: Features, a: number): number {
	const {spans} = features.analog;
	const tops = (features.handAt(a)?.others(a) ?? []).map(f => spans.high[f]);
	const top = Math.max(...tops);
	return isFirmwaresTop(features, top) ? tops.filter(other => other === top).length : 0;
}

/** Below full scale, but where no supply ends: 1000 of 1023, 100 or 180. */
function isFirmwaresTop({scale}: Features, top: number): boolean {
	const share = (top - scale.railLow) / scale.fullScale;
	return share < 1 - railShare && (share > ceilingShares.most || share < ceilingShares.least);
}
