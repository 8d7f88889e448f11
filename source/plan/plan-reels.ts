import {sumOf} from '../math/sums.ts';
import {channelKind, type Reel, type Sheet, type SheetChannel} from '../sheet/sheet.ts';
import {fixedText} from '../text/number-text.ts';
import type {PlanFinding} from './plan-finding.ts';
import {
	cordTravelMm,
	countsPerDegree,
	degreesPerCount,
	diameterForShareMm,
	spanCounts,
	spoolAngleDeg,
	spoolTurns,
	trackShare,
	usualTrackShare,
} from './reel-geometry.ts';

/** Joint ranges from open hand to fist, degrees, knuckle first. Source: hand-surgery reference tables. */
const fingerAnglesDeg = [90, 100, 80];
const thumbAnglesDeg = [55, 80];

/** Distance of a cord on the back of the hand from the joints' axes, mm: an example to start from, not a measurement. */
const usualRadiiMm = [10, 8, 6];

/** Shares of the track below which a reel is too coarse (common practice: warn under 30 %, bad under 10 %). */
const poorShare = 0.3;
const badShare = 0.1;

/** What one reel will give. */
export type ReelPlan = {
	readonly channel: string;
	readonly travelMm: number;
	/** Where the travel comes from. */
	readonly travelFrom: 'measured' | 'radii' | 'usual radii';
	readonly spoolDiameterMm: number | null;
	readonly electricalAngleDeg: number;
	readonly spoolAngleDeg: number | null;
	readonly spoolTurns: number | null;
	/** Share of the track, above 1 where it is not enough. */
	readonly trackShare: number | null;
	readonly spanCounts: number | null;
	/** Per degree of the spool. */
	readonly countsPerDegree: number | null;
	readonly degreesPerCount: number | null;
	/** Per degree of the finger, all joints together. */
	readonly countsPerFingerDegree: number | null;
	/** Spool that uses 80 % of the track. */
	readonly idealDiameterMm: number;
};

/** Expected travel and resolution of each finger's reel. `fullScale` null: counts are left out. */
export function planReels(sheet: Sheet, fullScale: number | null): {reels: ReelPlan[]; findings: PlanFinding[]} {
	const channels = sheet.channels.filter(({name}) => channelKind(name) === 'finger');
	const reels = channels.map(channel => planReel(channel, sheet.reel ?? {}, fullScale));
	return {reels, findings: reels.flatMap((reel, index) => checkReel(reel, channels[index].line))};
}

function planReel(channel: SheetChannel, common: Reel, fullScale: number | null): ReelPlan {
	const angles = channel.name === 'thumb' ? thumbAnglesDeg : fingerAnglesDeg;
	const {travelMm, travelFrom} = travelOf(channel, common, angles);
	const spoolDiameterMm = channel.spoolDiameterMm ?? common.spoolDiameterMm ?? null;
	const electricalAngleDeg = channel.electricalAngleDeg ?? common.electricalAngleDeg ?? 270;
	const share = spoolDiameterMm === null ? null : trackShare(travelMm, spoolDiameterMm, electricalAngleDeg);
	const span = share === null || fullScale === null ? null : spanCounts(share, fullScale);
	return {
		channel: channel.name,
		travelMm,
		travelFrom,
		spoolDiameterMm,
		electricalAngleDeg,
		spoolAngleDeg: spoolDiameterMm === null ? null : spoolAngleDeg(travelMm, spoolDiameterMm),
		spoolTurns: spoolDiameterMm === null ? null : spoolTurns(travelMm, spoolDiameterMm),
		trackShare: share,
		spanCounts: span,
		countsPerDegree: fullScale === null ? null : countsPerDegree(fullScale, electricalAngleDeg),
		degreesPerCount: fullScale === null ? null : degreesPerCount(fullScale, electricalAngleDeg),
		countsPerFingerDegree: span === null ? null : span / sumOf(angles),
		idealDiameterMm: diameterForShareMm(travelMm, electricalAngleDeg, usualTrackShare),
	};
}

/** A channel's own figures go before the common ones, a measured travel before a computed one. */
function travelOf(
	channel: SheetChannel,
	common: Reel,
	angles: readonly number[],
): Pick<ReelPlan, 'travelMm' | 'travelFrom'> {
	for (const {cordTravelMm: measured, jointRadiiMm} of [channel, common]) {
		if (measured !== undefined) return {travelMm: measured, travelFrom: 'measured'};
		if (jointRadiiMm) return {travelMm: cordTravelMm(jointRadiiMm, angles), travelFrom: 'radii'};
	}
	return {travelMm: cordTravelMm(usualRadiiMm, angles), travelFrom: 'usual radii'};
}

function checkReel(reel: ReelPlan, line: number | undefined): PlanFinding[] {
	const {channel, travelMm, spoolDiameterMm, electricalAngleDeg, trackShare: share, idealDiameterMm} = reel;
	if (share === null) return [];
	const base = {channel, ...(line && {line})};
	const advice = `A spool of ${fixedText(idealDiameterMm, 1)} mm would use ${usualTrackShare * 100} % of the track.`;
	const turn = `${fixedText(travelMm, 1)} mm of cord on a ${spoolDiameterMm} mm spool turn it by ${fixedText(reel.spoolAngleDeg, 0)}°`;
	const track = `the track has ${electricalAngleDeg}°`;
	if (share > 1) {
		return [
			{
				...base,
				code: 'track-too-short',
				status: 'out-of-spec',
				summary: `${turn}, ${track}: it will run into its end`,
				advice,
			},
		];
	}
	if (share < poorShare) {
		const status = share < badShare ? 'failure' : 'out-of-spec';
		return [
			{
				...base,
				code: 'little-travel',
				status,
				summary: `${turn}, only ${fixedText(share * 100, 0)} % of the track`,
				advice,
			},
		];
	}
	return [];
}
