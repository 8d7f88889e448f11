import type {SourceItem} from '../stream/source-item.ts';
import {bootText} from './boot-text.ts';
import {Converter} from './converter.ts';
import {Delivery} from './delivery.ts';
import {type FaultModel, type FaultOutcome, type FaultSpec, Window} from './fault-model.ts';
import {faultModels} from './faults/catalogue.ts';
import {columnsOf, FrameFormat} from './frame-format.ts';
import type {Script} from './gesture.ts';
import type {GloveSpec} from './glove.ts';
import {Motion} from './movement.ts';
import {Random} from './random.ts';
import {type Declared, Rig} from './rig.ts';
import type {LinkSpec, StreamSpec} from './stream-spec.ts';
import {UartResampler} from './uart.ts';

/** Everything a simulation is made from: plain JSON. The same spec gives the same bytes and times on every machine. */
export type SimulationSpec = {
	readonly seed: number;
	/** May be Infinity for `playSimulation`. */
	readonly durationSeconds: number;
	readonly glove: GloveSpec;
	readonly stream: StreamSpec;
	readonly link: LinkSpec;
	readonly script: Script;
	readonly faults: readonly FaultSpec[];
	/** How the stream begins: in the middle of a line, with the board's boot text, or with a whole frame. */
	readonly start: 'mid-line' | 'boot' | 'clean';
	/** What the user declares; left out: nothing but the line's baud. */
	readonly declared?: Partial<Declared> | undefined;
};

/** A fault as injected. */
export type FaultTruth = {
	readonly code: string;
	readonly channel: string | null;
	/** Seconds; `to` is null where it lasts to the end. */
	readonly from: number;
	readonly to: number | null;
	readonly severity: number;
	readonly variant: string;
	/** `must`: a right diagnosis names it. `may`: naming it or not are both right. `must-not`: naming it is a false alarm. */
	readonly expect: 'must' | 'may' | 'must-not';
	/** Channels that may be named instead of `channel`. */
	readonly alternatives: readonly string[];
	/** Findings that may be named besides. */
	readonly may: readonly {readonly code: string; readonly channel: string | null}[];
	/** Moments at which the cause acted, seconds, of causes that act now and then (a jump, a kink, a lost frame). Complete after `simulate`. */
	readonly signs: readonly number[];
};

/** What is really so, for measuring a diagnosis against. */
export type Truth = {
	readonly durationSeconds: number;
	readonly faults: readonly FaultTruth[];
	/** Names of the columns sent, in order. */
	readonly columns: readonly string[];
	/** Analog channels in the order read. */
	readonly scanOrder: readonly string[];
	/** Ends of each finger's travel as sent, in the output's unit, without faults and noise. */
	readonly ranges: readonly {readonly name: string; readonly low: number; readonly high: number}[];
	/** Rest point of the stick as sent. */
	readonly stickCentre: readonly [x: number, y: number] | null;
	readonly outputFullScale: number;
	/** Moments at which the whole hand began to close, seconds. */
	readonly closings: readonly number[];
	/** Frames that the board made, lost ones included. Complete after `simulate`. */
	readonly frames: number;
	/** What the user told the tool. */
	readonly declared: Declared;
};

export type Simulation = {readonly items: readonly SourceItem[]; readonly truth: Truth};

/** What the hand of a simulation does, from the start: the same each time. */
export function motionOf({seed, glove, script}: SimulationSpec): Motion {
	return new Motion(glove, script, new Random(seed).fork('motion'));
}

/** One run of a simulated glove. */
class Simulator {
	readonly rig: Rig;
	readonly #spec: SimulationSpec;
	readonly #faults: FaultTruth[];
	readonly #format: FrameFormat;
	readonly #random: Random;
	#wireFree = 0;
	#frames = 0;
	/** The first frame is found half sent. */
	#isMidLine: boolean;

	constructor(spec: SimulationSpec) {
		this.#spec = spec;
		this.#isMidLine = spec.start === 'mid-line';
		const {glove, stream, link} = spec;
		const root = new Random(spec.seed);
		this.#random = root.fork('sender');
		const declared: Declared = {fullScale: null, baud: link.baud, layout: null, targetRate: null, ...spec.declared};
		this.rig = new Rig({
			glove,
			stream,
			link,
			declared,
			durationSeconds: spec.durationSeconds,
			motion: motionOf(spec),
			delivery: new Delivery(link, root.fork('delivery')),
			random: root.fork('rig'),
		});
		const names = this.rig.channels.map(channel => channel.name);
		const decimals = glove.firmware.decimals;
		this.#format = new FrameFormat(stream, columnsOf(stream, names, glove.buttons.count), decimals);
		this.#faults = spec.faults.map((fault, i) => this.#install(fault, root.fork(`fault ${i} ${fault.code}`)));
	}

	#install(fault: FaultSpec, random: Random): FaultTruth {
		const model = faultModels.get(fault.code);
		if (!model) throw new RangeError(`no fault is called ${fault.code}`);
		const window = new Window(fault);
		const severity = fault.severity ?? 0.5;
		const channel = fault.channel ?? null;
		const index = this.#placeFor(model, channel);
		const variant = fault.variant ?? random.pick(model.variants);
		const {rig} = this;
		const signs: number[] = [];
		// A stream without an end would fill the memory with them.
		const ends = Number.isFinite(this.#spec.durationSeconds);
		const outcome: FaultOutcome = model.install(rig, {
			code: fault.code,
			channel,
			index,
			severity,
			variant,
			window,
			random,
			acts: ends ? t => signs.push(t) : () => {},
		});
		const last = window.spans[window.spans.length - 1][1];
		return {
			code: fault.code,
			channel,
			from: outcome.from ?? window.spans[0][0],
			to: outcome.to !== undefined ? outcome.to : Number.isFinite(last) ? last : null,
			severity,
			variant,
			expect: expectationOf(severity, outcome),
			alternatives: outcome.alternatives ?? [],
			may: outcome.may ?? [],
			signs,
		};
	}

	/** Where a fault is to sit: among the buttons, else among the analog channels; −1 for the link. */
	#placeFor({code, scope}: FaultModel, channel: string | null): number {
		if (scope === 'link') return channel === null ? -1 : this.rig.indexOf(channel);
		const {buttons} = this.rig;
		const isButton = scope === 'button';
		const place =
			channel === null ? -1 : isButton ? Number(channel.replace('button-', '')) - 1 : this.rig.indexOf(channel);
		if (place < 0 || (isButton && place >= buttons.length))
			throw new RangeError(`${code} needs a ${scope} channel of this glove, not ${channel}`);
		return place;
	}

	truth(): Truth {
		const {rig} = this;
		const {motion, channels} = rig;
		return {
			durationSeconds: this.#spec.durationSeconds,
			faults: this.#faults,
			columns: this.#format.columns.map(({name}) => name),
			scanOrder: channels.map(({name}) => name),
			ranges: channels
				.filter(channel => channel.finger)
				.map(channel => {
					const ends = motion.extremes(channel.place).map(bending => channel.idealOutput(bending));
					return {name: channel.name, low: Math.min(...ends), high: Math.max(...ends)};
				}),
			stickCentre: this.#spec.glove.stick
				? [channels[rig.indexOf('stick-x')].idealOutput(0), channels[rig.indexOf('stick-y')].idealOutput(0)]
				: null,
			outputFullScale: this.#spec.glove.firmware.outputFullScale,
			closings: motion.closings.filter(t => t < this.#spec.durationSeconds),
			frames: this.#frames,
			declared: rig.declared,
		};
	}

	/** Chunks as they become ready, a frame's worth at a time. */
	*items(): Generator<SourceItem[]> {
		const {rig} = this;
		const {glove} = rig;
		const {durationSeconds} = this.#spec;
		const noise = this.#random.fork('converter');
		const converter = new Converter(glove.board, glove.firmware.averageOf, noise);
		const count = rig.channels.length;
		const values = new Float64Array(count + rig.buttons.length + 2);
		const sampled = new Float64Array(count);
		const byteSeconds = rig.senderBaud ? 10 / rig.senderBaud : 0;
		let t = this.#start();
		while (t < durationSeconds && !rig.gone) {
			rig.keepAppointments(t);
			if (rig.gone) break;
			for (const bytes of rig.takeOutbox()) this.#send(t, bytes);
			if (rig.pauseSeconds > 0) {
				t += rig.pauseSeconds;
				rig.pauseSeconds = 0;
				continue;
			}
			this.#scan(t, rig.readSeconds, converter, sampled);
			this.#fill(t, sampled, values);
			this.#sendFrame(t, values);
			t += this.#intervalAfter(t);
			// A full transmit buffer of 64 bytes makes the board wait.
			if (byteSeconds > 0) t = Math.max(t, this.#wireFree - 64 * byteSeconds);
			const ready = rig.delivery.take().filter(item => item.t <= durationSeconds);
			if (ready.length > 0) yield ready;
		}
		if (this.#resampler) {
			rig.delivery.push(this.#wireFree, byteSeconds, this.#resampler.flush());
		}
		rig.delivery.advance(Math.min(durationSeconds, t + 1));
		const rest = rig.delivery.take().filter(item => item.t <= durationSeconds);
		if (rest.length > 0) yield rest;
	}

	/** The board as it is found: just plugged in, or running. Gives when its first frame is due. */
	#start(): number {
		const {rig} = this;
		const {glove, stream} = rig;
		const random = this.#random;
		const {start} = this.#spec;
		const uptime = start === 'boot' ? 0 : random.logUniform(2, 3000);
		rig.bootedAt = -uptime;
		rig.counter = Math.floor(uptime * stream.rate * 0.97);
		let t = random.uniform(0, rig.frameSeconds);
		if (start === 'boot') {
			rig.say(bootText(glove.board, 'power', random.fork('boot')));
			t += glove.board.bootSeconds * random.uniform(0.3, 1);
			for (const bytes of rig.takeOutbox()) this.#send(t * 0.4, bytes);
		}
		const header = start === 'mid-line' ? undefined : this.#format.header();
		if (header) this.#send(t, header);
		return t;
	}

	/** Puts together what a frame is made of. */
	#fill(t: number, sampled: Float64Array, values: Float64Array): void {
		const {rig} = this;
		const count = sampled.length;
		for (let i = 0; i < count; i++) values[i] = sampled[rig.wiring[i]];
		for (let i = 0; i < rig.buttons.length; i++) values[count + i] = this.#button(i, t);
		const {counter} = rig.stream;
		values[values.length - 2] = counter > 0 ? rig.counter % counter : 0;
		values[values.length - 1] = this.#clock(t);
		rig.counter++;
		this.#frames++;
	}

	#sendFrame(t: number, values: Float64Array): void {
		const {rig} = this;
		let lost = false;
		for (const drop of rig.drop) if (drop(t)) lost = true;
		const frame = this.#format.frame(values);
		rig.lastFrame = frame;
		if (lost) return;
		let bytes = frame;
		for (const damage of rig.damage) bytes = damage(t, bytes);
		if (this.#isMidLine) bytes = bytes.subarray(this.#random.integer(1, bytes.length - 1));
		this.#isMidLine = false;
		this.#send(t + rig.channels.length * rig.readSeconds, bytes);
	}

	/** Seconds from a frame to the next one. */
	#intervalAfter(t: number): number {
		const {rig} = this;
		const {link} = rig;
		let interval = rig.frameSeconds * (1 + link.clockError);
		for (const hook of rig.interval) interval = hook(t, interval);
		// A board cannot send what it has not read yet.
		interval = Math.max(interval, rig.channels.length * rig.readSeconds);
		return interval * Math.max(0.05, 1 + this.#random.normal(0, link.senderJitter));
	}

	/** Reads every analog channel once, in scan order. */
	#scan(t: number, readSeconds: number, converter: Converter, out: Float64Array): void {
		const {rig} = this;
		const {motion} = rig;
		for (let i = 0; i < out.length; i++) {
			const channel = rig.channels[i];
			const at = t + i * readSeconds;
			let position: number;
			if (channel.finger) {
				position = motion.finger(channel.place, at - channel.finger.lagMs / 1000);
				rig.bending[channel.place] = position;
			} else {
				position = channel.place === 0 ? motion.stickX(at) : motion.stickY(at);
			}
			let volts = channel.sense(at, position);
			for (const supply of rig.supply) volts *= supply(at);
			rig.pins[i] = volts;
		}
		for (let i = 0; i < out.length; i++) {
			const channel = rig.channels[i];
			const at = t + i * readSeconds;
			let volts = rig.pins[i];
			for (const hook of channel.volts) volts = hook(at, volts);
			volts = Math.min(1, Math.max(0, volts));
			rig.held = volts;
			let counts = converter.read(volts);
			for (const hook of channel.counts) counts = hook(at, counts);
			let sent = channel.firmware.process(counts);
			for (const hook of channel.output) sent = hook(at, sent);
			rig.sent[i] = sent;
			out[i] = sent;
		}
	}

	#button(i: number, t: number): number {
		const {rig} = this;
		const pressedFor = rig.motion.pressedFor(i, t);
		let level = pressedFor === undefined ? rig.idleLevel : 1 - rig.idleLevel;
		for (const hook of rig.buttons[i]) level = hook(t, level, pressedFor);
		return level;
	}

	/** The board's own time in the column's unit, with its clock's error and its uint32 wrap (check-values U19, U20). */
	#clock(t: number): number {
		const {clock} = this.rig.stream;
		if (clock === 'none') return 0;
		const us = Math.max(0, (t - this.rig.bootedAt) * (1 - this.rig.link.clockError) * 1e6);
		if (clock === 'us') return (Math.floor(us / 4) * 4) % 2 ** 32;
		const avr = this.rig.glove.board.family.startsWith('avr');
		return Math.floor(avr ? Math.floor(us / 1024) * 1.024 : us / 1000) % 2 ** 32;
	}

	#resampler: UartResampler | undefined;

	/** Puts bytes on the wire as soon as it is free. */
	#send(t: number, bytes: Uint8Array): void {
		const {rig} = this;
		for (const mute of rig.mute) if (mute(t)) return;
		const byteSeconds = rig.senderBaud ? 10 / rig.senderBaud : 0;
		const start = Math.max(t, this.#wireFree);
		this.#wireFree = start + bytes.length * byteSeconds;
		const {mismatch} = rig;
		if (mismatch && rig.senderBaud && mismatch.has(t)) {
			this.#resampler ??= new UartResampler(rig.senderBaud, mismatch.receiverBaud, mismatch.framingErrors);
			// What the receiver made of the bytes before, which it has had whole by now.
			const received = this.#resampler.push(start, bytes);
			rig.delivery.push(start, 0, received);
			return;
		}
		rig.delivery.push(start, byteSeconds, bytes);
	}
}

/** Whether the fault has to be found: at the limit it may, and what is just healthy must not. */
function expectationOf(severity: number, {must}: FaultOutcome): FaultTruth['expect'] {
	if (severity <= -1) return 'must-not';
	return severity < 0 || must === false ? 'may' : 'must';
}

/** Runs a whole simulation. An hour at 100 frames a second takes a few seconds. Throws `RangeError` on a fault or channel that is not there. */
export function simulate(spec: SimulationSpec): Simulation {
	if (!Number.isFinite(spec.durationSeconds)) throw new RangeError('simulate needs a duration');
	const simulator = new Simulator(spec);
	const items: SourceItem[] = [];
	for (const batch of simulator.items()) for (const item of batch) items.push(item);
	return {items, truth: simulator.truth()};
}

/** What is known of a simulation before it runs: `ranges`, `closings`, `signs` and `frames` are only complete after `simulate`. */
export function truthOf(spec: SimulationSpec): Truth {
	return new Simulator(spec).truth();
}

/** The same, a few chunks at a time, for streams without an end. */
export function playSimulation(spec: SimulationSpec): Generator<SourceItem[]> {
	return new Simulator(spec).items();
}

/** Puts the bytes of a simulation into one array. */
export function bytesOf(items: readonly SourceItem[]): Uint8Array {
	let length = 0;
	for (const item of items) if ('bytes' in item) length += item.bytes.length;
	const whole = new Uint8Array(length);
	let at = 0;
	for (const item of items) {
		if (!('bytes' in item)) continue;
		whole.set(item.bytes, at);
		at += item.bytes.length;
	}
	return whole;
}
