import {AnalogChannel} from './analog-channel.ts';
import {type BootReason, bootText} from './boot-text.ts';
import type {Delivery} from './delivery.ts';
import {analogNames, type GloveSpec} from './glove.ts';
import type {Motion} from './movement.ts';
import type {Random} from './random.ts';
import type {LinkSpec, StreamSpec} from './stream-spec.ts';

/** Level of a button's pin (0 or 1) at `t`; `pressedFor` in seconds while a finger is on it. */
type ButtonHook = (t: number, level: number, pressedFor: number | undefined) => number;

/** What a sheet says of a finger: ends of its travel in counts as sent, and whether the reading falls where it bends. */
export type DeclaredFinger = {readonly min: number; readonly max: number; readonly inverted: boolean};

/** What the user tells the tool about the glove; wrong where the fault is a wrong setting. */
export type Declared = {
	fullScale: number | null;
	baud: number | null;
	layout: string | null;
	targetRate: number | null;
	/** By channel name; undefined where there is no sheet. */
	fingers?: Record<string, DeclaredFinger>;
};

type Appointment = {readonly t: number; readonly run: (t: number) => void};

/**
 * A glove on the bench with its stages open, so that faults can be put in: each installs what it needs and knows
 * nothing of the others.
 */
export class Rig {
	readonly glove: GloveSpec;
	readonly stream: StreamSpec;
	readonly link: LinkSpec;
	readonly motion: Motion;
	readonly delivery: Delivery;
	readonly random: Random;
	readonly durationSeconds: number;
	readonly declared: Declared;
	/** Analog channels in scan order. */
	readonly channels: readonly AnalogChannel[];
	/** Bending of each finger now. */
	readonly bending: Float64Array;
	/** Voltage at each pin in this frame before its wiring faults, share of the reference. */
	readonly pins: Float64Array;
	/** Number sent for each analog channel, of this frame as far as it has been read. */
	readonly sent: Float64Array;
	/** Voltage left on the sampling capacitor by the channel read last, share of the reference. */
	held = 0.5;
	/** What open pins show by themselves, shares of full scale: a pin read after one copies it. */
	readonly openPins = new Map<number, {swing: number; peak: number; rms: number}>();
	/** Factor on all potentiometers' supply. */
	readonly supply: ((t: number) => number)[] = [];
	readonly buttons: ButtonHook[][];
	/** Time to the next frame, seconds. */
	readonly interval: ((t: number, seconds: number) => number)[] = [];
	/** True: this frame is counted and never sent. */
	readonly drop: ((t: number) => boolean)[] = [];
	/** Changes the bytes of a frame on their way. */
	readonly damage: ((t: number, bytes: Uint8Array) => Uint8Array)[] = [];
	/** True: nothing leaves the board at `t`. */
	readonly mute: ((t: number) => boolean)[] = [];
	/** The order in which analog values are written, as places in `channels`. */
	readonly wiring: number[];
	senderBaud: number | null;
	/** Where the receiver listens at another rate than the sender's: how it treats framing errors, and when. */
	mismatch: {receiverBaud: number; framingErrors: 'keep' | 'zero'; has: (t: number) => boolean} | undefined;
	/** The last frame made. */
	lastFrame: Uint8Array = new Uint8Array();
	counter = 0;
	/** True time at which the board's clock read zero. */
	bootedAt = 0;
	/** Seconds that the board does nothing before the next frame. */
	pauseSeconds = 0;
	/** Set once the port is gone for good. */
	gone = false;
	#appointments: Appointment[] = [];
	#sorted = true;
	readonly #outbox: Uint8Array[] = [];

	constructor(
		parts: Pick<Rig, 'glove' | 'stream' | 'link' | 'motion' | 'delivery' | 'random' | 'durationSeconds' | 'declared'>,
	) {
		this.glove = parts.glove;
		this.stream = parts.stream;
		this.link = parts.link;
		this.motion = parts.motion;
		this.delivery = parts.delivery;
		this.random = parts.random;
		this.durationSeconds = parts.durationSeconds;
		this.declared = parts.declared;
		this.channels = analogNames(this.glove).map(name => new AnalogChannel(this.glove, name));
		this.pins = new Float64Array(this.channels.length);
		this.sent = new Float64Array(this.channels.length);
		this.bending = new Float64Array(this.glove.fingers.length);
		this.buttons = Array.from({length: this.glove.buttons.count}, () => []);
		this.wiring = this.channels.map((_, i) => i);
		this.senderBaud = this.link.baud;
	}

	/** Level of an untouched button's pin. */
	get idleLevel(): number {
		return this.glove.buttons.activeLow ? 1 : 0;
	}

	/** Nominal time between frames, seconds. */
	get frameSeconds(): number {
		return 1 / this.stream.rate;
	}

	/** Time that one channel's reading takes, seconds: channels are read one after the other. */
	get readSeconds(): number {
		const {board, firmware} = this.glove;
		return (board.conversionMicroseconds / 1e6) * firmware.averageOf;
	}

	/** Place of a channel by name, −1 if there is none. */
	indexOf(name: string): number {
		return this.channels.findIndex(channel => channel.name === name);
	}

	/** Readings that an ordinary full movement of this finger spans, share of the reference at the pin. */
	spanShare(index: number): number {
		const channel = this.channels[index];
		if (!channel.finger) return 0.9;
		const {hand} = this.glove;
		return Math.abs(channel.ideal(hand.depth) - channel.ideal(hand.relaxed[channel.place] ?? 0.03));
	}

	/** Voltage at the pin of the open hand or the stick at rest, share of the reference. */
	restShare(index: number): number {
		const channel = this.channels[index];
		return channel.ideal(channel.finger ? (this.glove.hand.relaxed[channel.place] ?? 0.03) : 0);
	}

	/** Noise of one value sent, share of full scale rms, at the pin. */
	get noiseShare(): number {
		const {board, firmware} = this.glove;
		return board.noiseRmsCounts / 2 ** board.adcBits / Math.sqrt(firmware.averageOf);
	}

	/** True where the firmware smooths, so that fast faults come through weakened. */
	get smooths(): boolean {
		const {kind, filterStrength} = this.glove.firmware;
		return kind === 'filtered' || (kind === 'learns' && filterStrength < 1);
	}

	/** True where the firmware stretches every finger to the rails, learned or calibrated. */
	get scales(): boolean {
		const {kind} = this.glove.firmware;
		return kind === 'scaled' || kind === 'learns';
	}

	/** Calls `run` before the first frame at or after `t`. */
	at(t: number, run: (t: number) => void): void {
		if (!Number.isFinite(t)) return;
		this.#appointments.push({t, run});
		this.#sorted = false;
	}

	/** Runs what is due. */
	keepAppointments(t: number): void {
		// What is due may make further appointments.
		for (;;) {
			if (!this.#sorted) {
				this.#appointments.sort((a, b) => b.t - a.t);
				this.#sorted = true;
			}
			const next = this.#appointments[this.#appointments.length - 1];
			if (next === undefined || next.t > t) return;
			this.#appointments.pop();
			next.run(t);
		}
	}

	/** Writes bytes on the line before the next frame. */
	write(bytes: Uint8Array): void {
		this.#outbox.push(bytes);
	}

	/** Writes text lines, each with the stream's line end. */
	say(lines: readonly string[]): void {
		const end = this.stream.lineEnd;
		if (lines.length > 0) this.write(new TextEncoder().encode(lines.map(line => line + end).join('')));
	}

	takeOutbox(): Uint8Array[] {
		return this.#outbox.splice(0);
	}

	/** The board starts again: text, clock and counter from zero, filters empty. Returns the seconds it takes. */
	restart(t: number, reason: BootReason, random: Random, speaks: boolean): number {
		const {board} = this.glove;
		const seconds = board.bootSeconds * random.uniform(0.8, 1.3);
		if (speaks) {
			const lines = bootText(board, reason, random);
			// A boot ROM speaks at once, a sketch when its boot loader has handed over.
			if (board.bootText === 'esp32') this.say(lines);
			else this.at(t + seconds * 0.9, () => this.say(lines));
		}
		this.counter = 0;
		this.bootedAt = t + seconds * random.uniform(0.05, 0.9);
		for (const channel of this.channels) channel.firmware.restart();
		return seconds;
	}
}
