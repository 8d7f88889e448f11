import {plainName} from '../faults/plain-name.ts';
import {countsPerDegree} from '../plan/reel-geometry.ts';
import {bendingTable} from '../ruler/bending-table.ts';
import type {Finding} from '../session/snapshot.ts';
import type {Reel} from '../sheet/sheet.ts';
import {fixedText} from '../text/number-text.ts';
import type {Bending} from './bending.ts';
import type {FirmwareScaling} from './firmware-scaling.ts';
import type {FingerNote, FingerSettings, Geometry, Refusal} from './fit-result.ts';
import type {GatheredChannel, GatheredLayout} from './gather.ts';
import {restsAtRail} from './rail-rest.ts';
import {converterBits, distinctPositions, effectiveBits, noiseFreeBits} from './resolution.ts';
import {confidenceOfVisits, type RobustRange} from './robust-range.ts';

/** Lengths of cord and the readings there, along a ruler. */
export type CordCurve = readonly {readonly mm: number; readonly level: number}[];

/** Findings under which a channel's readings say nothing about the finger. */
const blinding = new Set(['floating-input', 'stuck-low', 'stuck-high', 'stuck-mid', 'duplicate-channel']);

/** Less span is no range of a finger (common practice: below 10 % is unusable; narrow-span begins at 8 %). */
const leastSpanShare = 0.08;

/** Whole bending of a finger and of a thumb, degrees (hand-surgery reference tables: 90 + 100 + 80 and 55 + 80). */
const fingerDegrees = 270;
const thumbDegrees = 135;

/** The settings of one finger, or why there are none. */
export function fingerSettings(
	gathered: GatheredLayout,
	channel: GatheredChannel,
	range: RobustRange,
	bending: Bending,
	reel: Reel | undefined,
	findings: readonly Finding[],
	firmware: FirmwareScaling,
	curve: CordCurve | undefined,
): FingerSettings | Refusal {
	const {analog, scale, layout} = gathered.features;
	const {name, column, place} = channel;
	const own = findings.filter(finding => finding.channel === name && finding.to === null);
	const isScaled = firmware.scales === 'yes';
	const blind = own.find(({code}) => blinding.has(code));
	if (blind && firmware.learning === 'incomplete') {
		return {name, reason: 'Let the firmware learn the hand first, see above.'};
	}

	if (blind) return {name, reason: `${plainName(blind.code)}: mend that first (glovebench explain ${blind.code}).`};
	const {low, high} = range;
	if (!low || !high) return {name, reason: whyNoRange(channel, range)};
	const span = high.level - low.level;
	if (span < leastSpanShare * scale.fullScale) {
		return {
			name,
			reason: `It has travelled ${percent(span / scale.fullScale)} % FS only: open and close it fully, three times or more.`,
		};
	}

	const restNoise = restsAtRail(channel, range) ? null : (analog.restNoise(place) ?? null);
	const isCounts = layout.unit === null && !scale.foreign;
	const bits = converterBits(scale.fullScale);
	// What firmware has stretched is no reading of the converter any more.
	const known = restNoise !== null && isCounts && !isScaled ? restNoise : null;
	return {
		name,
		column,
		low: low.level,
		high: high.level,
		lowUncertainty: low.uncertainty,
		highUncertainty: high.uncertainty,
		lowVisits: low.visits,
		highVisits: high.visits,
		spanPercentFs: (100 * span) / scale.fullScale,
		headroomLowPercent: (100 * Math.max(0, low.level - scale.railLow)) / scale.fullScale,
		headroomHighPercent: (100 * Math.max(0, scale.railHigh - high.level)) / scale.fullScale,
		flip: bending.flip ?? null,
		flipFrom: bending.from,
		flipConfidence: bending.confidence,
		restNoise,
		effectiveBits: known === null ? null : effectiveBits(bits, known),
		noiseFreeBits: known === null ? null : noiseFreeBits(bits, known),
		distinctPositions: known === null ? null : distinctPositions(span, known),
		geometry: isCounts && !isScaled && reel ? geometryOf(name, span, scale.fullScale, reel) : null,
		table: (curve && bendingTable(curve, low.level, high.level)) ?? null,
		confidence: confidenceOfVisits(Math.min(low.visits, high.visits)),
		notes: notesOn(low.isAtRail, high.isAtRail, isScaled, own, channel.glitches.dropped),
	};
}

function whyNoRange({visits}: GatheredChannel, {low, high}: RobustRange): string {
	const all = visits.at('low').length + visits.at('high').length;
	if (all === 0) return 'It has not moved: open and close the hand fully, three times or more.';
	const missing = [...(low ? [] : ['lower']), ...(high ? [] : ['upper'])].join(' and ');
	return `Its ${missing} end has not been reached twice: open and close the hand fully, three times or more.`;
}

function notesOn(
	isLowAtRail: boolean,
	isHighAtRail: boolean,
	isScaled: boolean,
	findings: readonly Finding[],
	dropped: number,
): FingerNote[] {
	const ends = [...(isLowAtRail ? (['lower'] as const) : []), ...(isHighAtRail ? (['upper'] as const) : [])];
	return [
		...(ends.length > 0 && !isScaled ? [{kind: 'rails', ends} as const] : []),
		...(dropped > 0 ? [{kind: 'jumps', count: dropped} as const] : []),
		...findings.map(({code}) => ({kind: 'finding', code}) as const),
	];
}

function geometryOf(name: string, span: number, fullScale: number, reel: Reel): Geometry | null {
	const {electricalAngleDeg, spoolDiameterMm} = reel;
	if (electricalAngleDeg === undefined) return null;
	const perDegree = countsPerDegree(fullScale, electricalAngleDeg);
	const spoolDegrees = span / perDegree;
	const whole = name.startsWith('thumb') ? thumbDegrees : fingerDegrees;
	return {
		countsPerSpoolDegree: perDegree,
		spoolDegrees,
		countsPerFingerDegree: span / whole,
		cordMm: spoolDiameterMm === undefined ? null : (spoolDegrees / 360) * Math.PI * spoolDiameterMm,
	};
}

/** One decimal. */
function percent(share: number): string {
	return fixedText(100 * share, 1);
}
