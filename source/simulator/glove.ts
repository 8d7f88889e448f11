import type {BoardSpec} from './boards.ts';

/** Names of the fingers of one hand, thumb first. */
export const fingerNames = ['thumb', 'index', 'middle', 'ring', 'little'] as const;

/** One reel: cord, spool, spring, potentiometer, and the finger that pulls it. */
export type FingerSpec = {
	readonly name: string;
	/** Cord pulled out from the stretched to the fully bent finger, millimetres (hand radii: check-values H7, H8). */
	readonly cordTravelMm: number;
	readonly spoolDiameterMm: number;
	/** Electrical angle of the potentiometer, degrees (check-values P1, P2). */
	readonly electricalAngleDegrees: number;
	/** Angle of the wiper above the low end of the track with the finger stretched, degrees. May lie outside the track. */
	readonly openAngleDegrees: number;
	/** +1: readings rise as the finger bends. */
	readonly direction: 1 | -1;
	/** Delay of the cord behind the finger, milliseconds. */
	readonly lagMs: number;
	/** Exponent between bending and cord travel; 1 is linear (check-values H9). */
	readonly curve: number;
	/** Play between bending and stretching as a share of the full travel (cord friction, check-values H11). */
	readonly playShare: number;
	/** How far the open position differs from one opening to the next, share of travel, rms. */
	readonly returnScatter: number;
	/** Resistance left at the ends of the track, share of the whole. */
	readonly endResistance: number;
	/** Resistance of the track over that of whatever loads the wiper; 0: no load (check-values P7). */
	readonly loadRatio: number;
	/** Share of the resistance at half turn, in two straight halves (check-values P5); left out: a straight track. */
	readonly halfShare?: number;
	/** Cord beyond so many millimetres lies in a second layer on the spool; left out: it lies in one. */
	readonly layerAtMm?: number;
};

export type StickSpec = {
	/** Reading at rest as a share of full scale, per axis. */
	readonly restX: number;
	readonly restY: number;
	/** Farthest reading from mid-scale as a share of half scale: left, right, up, down. */
	readonly reach: readonly [left: number, right: number, up: number, down: number];
	/** Scatter of the rest point after a release, share of full scale, rms per axis. */
	readonly restScatter: number;
	readonly gate: 'round' | 'square';
	/** Share of the throw around the centre in which nothing changes. */
	readonly deadCentre: number;
};

type ButtonsSpec = {
	readonly count: number;
	readonly activeLow: boolean;
	/** Shortest and longest ordinary press, seconds. */
	readonly pressSeconds: readonly [number, number];
};

/** What the program on the board does with the readings before it sends them. */
export type FirmwareSpec = {
	/**
	 * `raw`: counts. `scaled`: each finger stretched to the whole scale. `learns`: the same by the lowest and highest
	 * reading since power-on. `filtered`: smoothed until a resting finger gives one constant number. `averaged`: mean of
	 * `averageOf` readings, with decimals. `percent`, `mv`: other units.
	 */
	readonly kind: 'raw' | 'scaled' | 'learns' | 'filtered' | 'averaged' | 'percent' | 'mv';
	/** Readings averaged per value. */
	readonly averageOf: number;
	/** `filtered`: which filter. */
	readonly filter: 'ema' | 'median';
	/** `filtered`: weight of a new reading (ema) 0…1, or window length (median). `learns`: that weight, 1: unsmoothed. */
	readonly filterStrength: number;
	/** `filtered`: the value sent changes only when the filtered one has moved this many counts. */
	readonly deadBandCounts: number;
	/** Decimals of `averaged`, `percent` and `mv`. */
	readonly decimals: number;
	/** Top of the scale that is sent (1023, 100, 5000 …). */
	readonly outputFullScale: number;
	/** `learns`: the one false reading after every start that ruins a finger's range. Left out: there is none. */
	readonly glitch?: Glitch;
};

/** A reading of `finger` that stands at a rail, the `reading`-th after the start, counted from 0. */
type Glitch = {readonly finger: string; readonly reading: number; readonly rail: 'low' | 'high'};

/** How the hand in the glove behaves. */
export type HandSpec = {
	/** Seconds for one closing of a finger in ordinary movement. */
	readonly closeSeconds: number;
	/** Relative spread of durations between fingers and movements, rms. */
	readonly durationSpread: number;
	/** Spread of the start of the fingers within one movement, seconds rms. */
	readonly startSpreadSeconds: number;
	/** Mean depth of a closing, 0…1, and its spread. */
	readonly depth: number;
	readonly depthSpread: number;
	/** Bending of each finger in the relaxed open hand, 0…1. */
	readonly relaxed: readonly number[];
	/** `coupling[i][j]`: share of finger i's movement that finger j follows when i is moved alone (check-values H19–H24). */
	readonly coupling: readonly (readonly number[])[];
	/** Physiological tremor: frequency in hertz (check-values H16–H18) and amplitude as a share of the finger's travel, rms. */
	readonly tremorHertz: number;
	readonly tremorShare: number;
	/** Unsteadiness of a stick that is held out, share of its throw, rms. */
	readonly stickTremor: number;
	/** Slow sway of a held pose, share of travel, rms. */
	readonly swayShare: number;
};

/** A glove as built, and the hand in it: plain JSON. */
export type GloveSpec = {
	readonly board: BoardSpec;
	readonly fingers: readonly FingerSpec[];
	readonly stick: StickSpec | null;
	/** True where the stick is read before the fingers. */
	readonly stickFirst: boolean;
	readonly buttons: ButtonsSpec;
	readonly firmware: FirmwareSpec;
	readonly hand: HandSpec;
};

/** Share of the track that a full bend of this finger turns through; more than 1 runs into the end. */
export function travelShare(finger: FingerSpec): number {
	return ((finger.cordTravelMm / (Math.PI * finger.spoolDiameterMm)) * 360) / finger.electricalAngleDegrees;
}

/** Highest code of the board's converter. */
export function converterFullScale(board: BoardSpec): number {
	return 2 ** board.adcBits - 1;
}

/** Names of `count` fingers: those of one hand up to five, then a second set `thumb-2` … for gloves with more reels. */
export function namesOfFingers(count: number): string[] {
	if (count === 4) return fingerNames.slice(1);
	return Array.from({length: count}, (_, i) => {
		const name = fingerNames[i % 5];
		return i < 5 ? name : `${name}-${Math.floor(i / 5) + 1}`;
	});
}

/** Names of the analog channels in the order in which the board reads them. */
export function analogNames(glove: GloveSpec): string[] {
	const fingers = glove.fingers.map(finger => finger.name);
	if (!glove.stick) return fingers;
	return glove.stickFirst ? ['stick-x', 'stick-y', ...fingers] : [...fingers, 'stick-x', 'stick-y'];
}
