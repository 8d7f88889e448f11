import {Converter} from './converter.ts';
import {type Calibration, ChannelFirmware} from './firmware.ts';
import {type FingerSpec, type GloveSpec, travelShare} from './glove.ts';

/** Changes a value on its way at `t` seconds. */
type AnalogHook = (t: number, value: number) => number;

function apply(hooks: readonly AnalogHook[], t: number, value: number): number {
	for (const hook of hooks) value = hook(t, value);
	return value;
}

/** Thickness of the cord, mm (common practice, no source): braided fishing line. */
const cordThicknessMm = 0.8;

/** Millimetres of cord as a single layer would give them: in a second layer a turn takes more of it. */
function turningMm(cordMm: number, {layerAtMm, spoolDiameterMm}: FingerSpec): number {
	if (layerAtMm === undefined || cordMm <= layerAtMm) return cordMm;
	return layerAtMm + ((cordMm - layerAtMm) * spoolDiameterMm) / (spoolDiameterMm + 2 * cordThicknessMm);
}

/** Share of the resistance at this share of the turn: two straight halves that meet at `half`. */
function tapered(turn: number, half: number | undefined): number {
	if (half === undefined) return turn;
	return turn < 0.5 ? 2 * half * turn : half + 2 * (1 - half) * (turn - 0.5);
}

/** A cord that moves its spool only after its play is taken up: the play operator of hysteresis. */
export class Play {
	#position = Number.NaN;
	/** Width in the unit of the input. */
	width: number;

	constructor(width: number) {
		this.width = width;
	}

	follow(input: number): number {
		const half = this.width / 2;
		if (Number.isNaN(this.#position)) this.#position = input;
		else if (input - this.#position > half) this.#position = input - half;
		else if (this.#position - input > half) this.#position = input + half;
		return this.#position;
	}
}

/**
 * One analog channel from the hand to the number sent. Faults hang on its stages: `travel` (millimetres of cord,
 * fingers only), `track` (wiper position as a share of the track, before its ends), `volts` (share of the converter's
 * reference at the pin), `counts` (after the converter) and `output` (after the firmware).
 */
export class AnalogChannel {
	readonly name: string;
	readonly kind: 'finger' | 'stick';
	/** Place among the fingers, or 0 for stick-x and 1 for stick-y. */
	readonly place: number;
	readonly finger: FingerSpec | undefined;
	readonly travel: AnalogHook[] = [];
	readonly track: AnalogHook[] = [];
	readonly volts: AnalogHook[] = [];
	readonly counts: AnalogHook[] = [];
	readonly output: AnalogHook[] = [];
	readonly firmware: ChannelFirmware;
	readonly #glove: GloveSpec;
	readonly #play: Play;
	/** Share of full scale sent that a small step of the pin voltage (share of the reference) makes. */
	readonly gain: number;

	constructor(glove: GloveSpec, name: string) {
		this.name = name;
		this.#glove = glove;
		this.kind = name.startsWith('stick-') ? 'stick' : 'finger';
		this.place =
			this.kind === 'stick' ? (name === 'stick-y' ? 1 : 0) : glove.fingers.findIndex(finger => finger.name === name);
		this.finger = this.kind === 'finger' ? glove.fingers[this.place] : undefined;
		this.#play = new Play((this.finger?.playShare ?? 0) * (this.finger?.cordTravelMm ?? 0));
		const calibration = this.#calibration();
		const fullScale = 2 ** glove.board.adcBits - 1;
		const glitched = glove.firmware.glitch?.finger === name;
		this.firmware = new ChannelFirmware(glove.firmware, fullScale, calibration, glitched);
		const live = 1 / (1 - glove.board.deadLow - glove.board.deadHigh);
		this.gain = calibration ? (live * fullScale) / (calibration.high - calibration.low) : live;
	}

	/** Cord pulled out at this bending, millimetres. */
	cordMm(bending: number): number {
		const {curve, cordTravelMm} = this.finger!;
		return bending <= 0 ? bending * cordTravelMm : cordTravelMm * bending ** curve;
	}

	/** Wiper position for this much cord, share of the track; beyond 0…1 where the reel is at its stop. */
	trackOf(cordMm: number): number {
		const {openAngleDegrees, electricalAngleDegrees, direction, cordTravelMm} = this.finger!;
		const share = (turningMm(cordMm, this.finger!) / cordTravelMm) * travelShare(this.finger!);
		return openAngleDegrees / electricalAngleDegrees + direction * share;
	}

	/** Pin voltage as a share of the supply for this track position: a divider, loaded where something draws current. */
	#pin(track: number): number {
		const end = this.finger?.endResistance ?? 0;
		const load = this.finger?.loadRatio ?? 0;
		const x = tapered(Math.min(1 - end, Math.max(end, track)), this.finger?.halfShare);
		return load > 0 ? x / (1 + load * x * (1 - x)) : x;
	}

	/** Track position of a stick axis for a throw of −1…1. */
	#stickTrack(position: number): number {
		const stick = this.#glove.stick!;
		const {deadLow, deadHigh} = this.#glove.board;
		const rest = this.place === 0 ? stick.restX : stick.restY;
		const [low, high] = this.place === 0 ? [stick.reach[0], stick.reach[1]] : [stick.reach[2], stick.reach[3]];
		const size = Math.abs(position);
		// Scatter of the rest point lies inside the dead centre and is not hidden by it.
		const share =
			stick.deadCentre === 0 || size < 0.03 ? size : Math.max(0.03, (size - stick.deadCentre) / (1 - stick.deadCentre));
		const reading = position < 0 ? rest - share * (rest - 0.5 + 0.5 * low) : rest + share * (0.5 + 0.5 * high - rest);
		// The spec speaks of readings; a converter with dead ends stretches what lies between them.
		return deadLow + reading * (1 - deadLow - deadHigh);
	}

	/** Voltage at the pin, share of the reference, before what the wiring does to it. */
	sense(t: number, position: number): number {
		let track: number;
		if (this.finger) track = this.trackOf(this.#play.follow(apply(this.travel, t, this.cordMm(position))));
		else track = this.#stickTrack(position);
		return this.#pin(apply(this.track, t, track));
	}

	/** Voltage at the pin with every fault and all friction left out, share of the reference. */
	ideal(position: number): number {
		return this.#pin(this.finger ? this.trackOf(this.cordMm(position)) : this.#stickTrack(position));
	}

	/** The number sent for `ideal(position)`, without noise and filters. */
	idealOutput(position: number): number {
		return this.outputOf(this.ideal(position));
	}

	/** The number sent for this voltage at the pin (share of the reference), without noise and filters. */
	outputOf(volts: number): number {
		return this.firmware.settled(Converter.ideal(this.#glove.board, volts));
	}

	/** The same as a share of the output's full scale. */
	outputShare(volts: number): number {
		return this.outputOf(volts) / this.#glove.firmware.outputFullScale;
	}

	/**
	 * Scaled firmware was calibrated on this hand: a little inside both ends, so that the rails are reached. Firmware
	 * that learns comes to know the ends themselves, and keeps a false one for good.
	 */
	#calibration(): Calibration | undefined {
		const {firmware, hand, board} = this.#glove;
		const {kind, glitch} = firmware;
		if ((kind !== 'scaled' && kind !== 'learns') || !this.finger) return undefined;
		const relaxed = hand.relaxed[this.place] ?? 0.03;
		const inside = [relaxed + 0.02, Math.max(0.6, hand.depth - 1.2 * hand.depthSpread - 0.01)];
		const ends = kind === 'learns' ? [relaxed, hand.depth] : inside;
		const [a, b] = ends.map(bending => Converter.ideal(board, this.ideal(bending)));
		const ruined = kind === 'learns' && glitch?.finger === this.name ? glitch.rail : undefined;
		return {
			low: ruined === 'low' ? 0 : Math.min(a, b),
			high: ruined === 'high' ? 2 ** board.adcBits - 1 : Math.max(a, b),
		};
	}
}
