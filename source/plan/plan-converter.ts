import type {Board} from '../sheet/board.ts';
import {isAnalog, type Sheet} from '../sheet/sheet.ts';
import {measureText} from '../text/number-text.ts';
import {countsAt, settlingSeconds, sourceOhms} from './converter-settling.ts';
import type {PlanFinding} from './plan-finding.ts';

/** Where a maker gives no limit for the source, the usual one of such converters (common practice). */
const usualSourceOhmsMost = 10_000;

/** How the pots and the converter get along. */
export type ConverterPlan = {
	readonly bits: number;
	readonly fullScale: number;
	/** Largest source resistance of the pots, ohms. */
	readonly sourceOhms: number;
	readonly sourceOhmsMost: number;
	/** Whether the limit is the maker's. */
	readonly limitFromMaker: boolean;
	/** Until within half a count, worst case, and what there is; null where the maker gives no figures. */
	readonly settlingMicroseconds: number | null;
	readonly samplingMicroseconds: number | null;
	/** Reading all analog channels once. */
	readonly scanMicroseconds: number;
	/** Counts between which the converter is straight; null where it is over the whole range. */
	readonly straightCounts: readonly [low: number, high: number] | null;
};

/** Source resistance, settling and scan time of a sheet's analog channels on a board. */
export function planConverter(sheet: Sheet, board: Board): {converter: ConverterPlan; findings: PlanFinding[]} {
	const {converter} = board;
	const declared = sheet.board?.fullScale;
	// A full scale the converter has not comes from scaling in the firmware; the converter still has its own bits.
	const bits = converter.bits.find(each => 2 ** each - 1 === declared) ?? converter.bits[0];
	const fullScale = declared ?? 2 ** bits - 1;
	const analog = sheet.channels.filter(isAnalog);
	const pots = analog.map(channel => channel.potOhms ?? sheet.reel?.potOhms ?? 10_000);
	const source = sourceOhms(Math.max(...pots, 0), 0.5);
	const acquisition =
		converter.acquisition?.find(({sourceOhmsMost}) => source <= sourceOhmsMost) ?? converter.acquisition?.at(-1);
	const sourceOhmsMost = acquisition?.sourceOhmsMost ?? converter.sourceOhmsMost ?? usualSourceOhmsMost;
	const {sampling} = converter;
	const settling = sampling && settlingSeconds(source, sampling.seriesOhms, sampling.farads, bits);
	const plan: ConverterPlan = {
		bits,
		fullScale,
		sourceOhms: source,
		sourceOhmsMost,
		limitFromMaker: acquisition !== undefined || converter.sourceOhmsMost !== undefined,
		settlingMicroseconds: settling === undefined ? null : settling * 1e6,
		samplingMicroseconds: acquisition?.microseconds ?? (sampling ? sampling.seconds * 1e6 : null),
		scanMicroseconds: analog.length * converter.conversionSeconds * 1e6,
		straightCounts: converter.straightVolts
			? [
					countsAt(converter.straightVolts[0], converter.referenceVolts, bits),
					countsAt(converter.straightVolts[1], converter.referenceVolts, bits),
				]
			: null,
	};
	return {converter: plan, findings: [...checkSource(plan), ...checkFullScale(sheet, board)]};
}

function checkSource(plan: ConverterPlan): PlanFinding[] {
	const {sourceOhms: source, sourceOhmsMost, settlingMicroseconds, samplingMicroseconds, limitFromMaker} = plan;
	const tooSlow =
		settlingMicroseconds !== null && samplingMicroseconds !== null && settlingMicroseconds > samplingMicroseconds;
	if (source <= sourceOhmsMost && !tooSlow) return [];
	const kiloohms = (ohms: number) => measureText(ohms / 1000, 1, 'kΩ');
	return [
		{
			code: 'weak-source',
			status: 'out-of-spec',
			channel: null,
			summary: `The pots drive the converter with up to ${kiloohms(source)}; ${kiloohms(sourceOhmsMost)} is the most ${limitFromMaker ? 'it is made for' : 'that is usual'}`,
			advice: 'Use 10 kΩ pots, or 100 nF from each input to ground at the board.',
		},
	];
}

function checkFullScale(sheet: Sheet, board: Board): PlanFinding[] {
	const declared = sheet.board?.fullScale;
	const known = board.converter.bits.map(bits => 2 ** bits - 1);
	if (declared === undefined || known.includes(declared)) return [];
	return [
		{
			code: 'unusual-full-scale',
			status: 'out-of-spec',
			channel: null,
			summary: `full_scale is ${declared}, but ${board.title} gives 0 to ${known.join(' or ')}`,
			advice: 'Right only where the firmware scales its output; else write what the converter gives.',
		},
	];
}
