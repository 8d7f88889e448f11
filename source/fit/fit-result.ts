import type {Finding} from '../session/snapshot.ts';
import type {FirmwareScaling} from './firmware-scaling.ts';
import type {OneEuro} from './one-euro.ts';
import type {SmoothingRow} from './smoothing.ts';
import type {StickSettings} from './stick-settings.ts';

/** What is to be typed into the firmware for one finger. Levels in the unit of the readings. */
export type FingerSettings = {
	readonly name: string;
	/** Column of the frame, from 0. */
	readonly column: number;
	readonly low: number;
	readonly high: number;
	/** Half the spread of the visits to each end. */
	readonly lowUncertainty: number;
	readonly highUncertainty: number;
	/** Visits that agree on each end. */
	readonly lowVisits: number;
	readonly highVisits: number;
	readonly spanPercentFs: number;
	/** Room between the ends and the rails, percent of full scale. */
	readonly headroomLowPercent: number;
	readonly headroomHighPercent: number;
	/** True: the reading falls as the finger bends. null: not to be told. */
	readonly flip: boolean | null;
	readonly flipFrom: 'sheet' | 'rest' | 'others' | 'unknown';
	readonly flipConfidence: number;
	/** rms at rest, in the unit of the readings; null where the hand never rested. */
	readonly restNoise: number | null;
	/** Bits left of the converter's by noise, and bits that do not flicker; null without noise or where readings are no counts. */
	readonly effectiveBits: number | null;
	readonly noiseFreeBits: number | null;
	/** Positions of the finger that can be told apart. */
	readonly distinctPositions: number | null;
	readonly geometry: Geometry | null;
	/**
	 * Nine readings, rising, at even lengths of cord from `low` to `high`, from a bring-up along a ruler; null without one, or
	 * where it covers too little of the range.
	 */
	readonly table: readonly number[] | null;
	/** Of the range, 0…1. */
	readonly confidence: number;
	/** What speaks against trusting it blindly. */
	readonly notes: readonly FingerNote[];
};

/** What speaks against trusting a finger's settings: ends at the rails, jumps that were left out, a finding that is still there. */
export type FingerNote =
	| {readonly kind: 'rails'; readonly ends: readonly ('lower' | 'upper')[]}
	| {readonly kind: 'jumps'; readonly count: number}
	| {readonly kind: 'finding'; readonly code: string};

/** What the sheet's reel says about the readings. */
export type Geometry = {
	/** Counts for one degree of the spool. */
	readonly countsPerSpoolDegree: number;
	/** By how much the spool turned over the range, degrees. */
	readonly spoolDegrees: number;
	/** Counts for one degree of the finger's joints together, if the range is their whole bending. */
	readonly countsPerFingerDegree: number;
	/** Cord pulled over the range, mm; null without a spool diameter. */
	readonly cordMm: number | null;
};

/** What is not given, and why. */
export type Refusal = {readonly name: string; readonly reason: string};

export type Smoothing = {
	/** Noise that the table starts from: the noisiest finger's, in percent of its span. */
	readonly finger: string;
	readonly noisePercentSpan: number;
	/** Correlation of successive readings at rest, 0…1. */
	readonly correlation: number;
	readonly framesPerSecond: number;
	/** Noise in percent of the span. */
	readonly table: readonly SmoothingRow[];
	readonly recommended: SmoothingRow;
	/** Noise that is aimed at, percent of the span. */
	readonly targetPercentSpan: number;
	readonly oneEuro: OneEuro;
	/** Speed of an ordinary movement, spans per second. */
	readonly spansPerSecond: number;
};

/** Settings computed from a session. */
export type FitResult = {
	readonly seconds: number;
	readonly frames: number;
	/** The recording breaks off: what came after is not in the settings. */
	readonly cut: boolean;
	/** The checks that wait for a movement, in a sentence; empty where none does. */
	readonly notJudged: string;
	readonly framesPerSecond: number | null;
	/** Unit that readings carry; null where they are counts. */
	readonly unit: string | null;
	readonly fullScale: number;
	/** Lowest possible reading: 0 unless readings are signed. */
	readonly railLow: number;
	/** False where full scale is only assumed. */
	readonly isFullScaleSure: boolean;
	readonly firmware: FirmwareScaling;
	readonly fingers: readonly FingerSettings[];
	readonly stick: StickSettings | null;
	readonly smoothing: Smoothing | null;
	readonly refused: readonly Refusal[];
	/** What is still found at the end. */
	readonly findings: readonly Pick<Finding, 'code' | 'channel' | 'evidence'>[];
};
