import {boards} from '../../source/simulator/boards.ts';
import type {FaultSpec} from '../../source/simulator/fault-model.ts';
import type {GloveSpec} from '../../source/simulator/glove.ts';
import {Random} from '../../source/simulator/random.ts';
import {drawGlove, type GloveWishes} from '../../source/simulator/random-glove.ts';
import {parseScript} from '../../source/simulator/script-text.ts';
import {bytesOf, type Simulation, type SimulationSpec, simulate} from '../../source/simulator/simulate.ts';
import {type LinkSpec, plainLink, plainStream, type StreamSpec} from '../../source/simulator/stream-spec.ts';

export const fullScale = 1023;

export type BenchOptions = {
	readonly seed?: number;
	readonly seconds?: number;
	readonly script?: string;
	readonly stream?: Partial<StreamSpec>;
	readonly link?: Partial<LinkSpec>;
	readonly glove?: GloveWishes;
	readonly change?: (glove: GloveSpec) => GloveSpec;
	readonly start?: SimulationSpec['start'];
	readonly declared?: SimulationSpec['declared'];
};

/** A quiet 10-bit glove with five fingers, stick and two buttons, at 100 comma-separated frames a second. */
export function benchSpec(faults: readonly FaultSpec[], options: BenchOptions = {}): SimulationSpec {
	const seed = options.seed ?? 1;
	const drawn = drawGlove(new Random(seed + 500), {
		board: 'avr',
		fingerCount: 5,
		stick: true,
		stickFirst: false,
		buttonCount: 2,
		activeLow: true,
		firmware: 'raw',
		clearance: 0.12,
		span: [0.4, 0.7],
		...options.glove,
	});
	const plain = {...drawn, board: boards[options.glove?.board ?? 'avr'], firmware: {...drawn.firmware, averageOf: 1}};
	return {
		seed,
		durationSeconds: options.seconds ?? 22,
		glove: options.change ? options.change(plain) : plain,
		stream: {...plainStream, ...options.stream},
		link: {...plainLink, ...options.link},
		script: parseScript(options.script ?? 'rest 6s, fist 5x, each 1x, rest 2s, fist 2x'),
		faults,
		start: options.start ?? 'clean',
		declared: options.declared,
	};
}

/** A simulation's frames, read back by the simplest means: lines split at commas. */
export type Reading = Simulation & {
	readonly spec: SimulationSpec;
	/** Arrival time of each good frame's last byte, seconds. */
	readonly times: number[];
	/** Values per column name. */
	readonly columns: Readonly<Record<string, number[]>>;
	/** Every line, good or bad, without its end. */
	readonly lines: string[];
	readonly bytes: Uint8Array;
};

export function read(spec: SimulationSpec): Reading {
	const simulation = simulate(spec);
	const names = simulation.truth.columns;
	const columns: Record<string, number[]> = Object.fromEntries(names.map(name => [name, []]));
	const times: number[] = [];
	const lines: string[] = [];
	let pending = '';
	for (const item of simulation.items) {
		if (!('bytes' in item)) continue;
		pending += Buffer.from(item.bytes).toString('latin1');
		const parts = pending.split(spec.stream.lineEnd);
		pending = parts.pop() ?? '';
		for (const line of parts) {
			lines.push(line);
			const fields = line.split(spec.stream.separator);
			if (fields.length !== names.length || !fields.every(field => /^\d+(\.\d+)?$/.test(field))) continue;
			times.push(item.t);
			for (const [i, name] of names.entries()) columns[name].push(Number(fields[i]));
		}
	}
	return {...simulation, spec, times, columns, lines, bytes: bytesOf(simulation.items)};
}

/** One fault on the bench. */
export function readFault(fault: FaultSpec, options: BenchOptions = {}): Reading {
	return read(benchSpec([fault], options));
}

/** Values of a column between two times, seconds. */
export function between(reading: Reading, name: string, from: number, to: number): number[] {
	return reading.columns[name].filter((_, i) => reading.times[i] >= from && reading.times[i] < to);
}

/** Highest less lowest value, without the outermost thousandth on either side. */
export function range(values: readonly number[]): number {
	const sorted = [...values].sort((a, b) => a - b);
	const cut = Math.floor(sorted.length / 1000);
	return sorted[sorted.length - 1 - cut] - sorted[cut];
}
