import {columnsOf, FrameFormat} from './frame-format.ts';
import {analogNames, converterFullScale, type GloveSpec} from './glove.ts';
import type {Random} from './random.ts';
import {type LinkSpec, plainLink, plainStream, type StreamSpec} from './stream-spec.ts';

/** Requirements put on a random stream; everything else is drawn. */
export type StreamWishes = {
	readonly rate?: number;
	/** Frames per second, lowest and highest. */
	readonly rates?: readonly [number, number];
	readonly text?: boolean;
	readonly counter?: boolean;
	readonly clock?: boolean;
	/** The line has a symbol rate (no native USB). */
	readonly serial?: boolean;
	/** Only `,` separated values without labels. */
	readonly plain?: boolean;
	readonly labelled?: boolean;
};

/** Rate of frames: mostly what sketches use, now and then slow or very fast. */
function drawRate(random: Random, [low, high]: readonly [number, number] = [20, 1000]): number {
	for (let attempt = 0; attempt < 50; attempt++) {
		const rate = random.weighted<number>([
			[random.pick([50, 60, 62.5, 75, 80, 90, 100, 100, 100, 120]), 8],
			[random.uniform(50, 125), 5],
			[random.uniform(125, 260), 2],
			[random.pick([150, 200, 250, 300, 333, 500, 1000]), 2],
			[random.uniform(20, 50), 1.5],
		]);
		if (rate >= low && rate <= high) return rate;
	}
	return random.uniform(low, high);
}

/** Draws how frames are written, for this glove. */
export function drawStream(random: Random, glove: GloveSpec, wishes: StreamWishes = {}): StreamSpec {
	const rate = wishes.rate ?? drawRate(random, wishes.rates);
	const decimal = glove.firmware.decimals > 0;
	const framing = drawFraming(random, wishes, decimal);
	const counted = wishes.counter ?? random.chance(0.3);
	const clocked = wishes.clock ?? random.chance(0.25);
	const base: StreamSpec = {
		...plainStream,
		rate,
		framing,
		lineEnd: random.weighted([
			['\r\n', 6],
			['\n', 4],
			['\r', 0.5],
		]),
		counter: counted ? random.pick([256, 65536, 65536, 4294967296]) : 0,
		clock: clocked ? drawClock(random, rate) : 'none',
		metaFirst: random.chance(0.6),
	};
	if (framing === 'slip' || framing === 'cobs') {
		return {
			...base,
			counter: Math.min(base.counter, 65536),
			clock: 'none',
			crc: random.pick(['none', 'xmodem', 'kermit', 'modbus', 'ibm-3740'] as const),
		};
	}
	if (framing === 'json')
		return {...base, labelMark: ':', labelStyle: random.pick(['full', 'full', 'letter'] as const)};
	return wishes.plain ? base : {...base, ...drawText(random, glove, wishes)};
}

function drawFraming(random: Random, {text, plain, labelled}: StreamWishes, decimal: boolean): StreamSpec['framing'] {
	if (plain) return 'text';
	const packets = text || labelled || decimal ? 0 : 1;
	return random.weighted<StreamSpec['framing']>([
		['text', 10],
		['json', 1],
		['slip', packets * 0.7],
		['cobs', packets * 0.7],
	]);
}

/** Milliseconds are too coarse for the jitter of fast frames: a fifth of a 5 ms interval. */
function drawClock(random: Random, rate: number): StreamSpec['clock'] {
	return rate > 110 || random.chance(0.3) ? 'us' : 'ms';
}

/** What a line of text looks like. */
function drawText(random: Random, glove: GloveSpec, wishes: StreamWishes): Partial<StreamSpec> {
	const {firmware, board} = glove;
	const wide = converterFullScale(board) > 4095;
	const labelled = wishes.labelled ?? random.chance(0.25);
	const separator = random.weighted([
		[',', 8],
		['\t', 2],
		[' ', 2],
		[';', 1],
		[', ', 1],
		['|', 0.5],
	]);
	const widths =
		random.chance(0.12) && !labelled
			? String(firmware.outputFullScale).length + (firmware.decimals > 0 ? 1 + firmware.decimals : 0)
			: 0;
	return {
		separator,
		labelMark: labelled ? random.pick([':', '=', ': ']) : null,
		labelStyle: random.pick(['full', 'capital', 'letter'] as const),
		brackets: random.weighted([
			['', 12],
			['[]', 1],
			['<>', 1],
			['()', 0.5],
		]),
		header: !labelled && random.chance(0.1),
		padWidth: widths,
		pad: random.pick([' ', '0'] as const),
		unit: labelled && firmware.kind === 'mv' && !wide ? random.pick(['', ' mV', 'mV']) : '',
		order: labelled && random.chance(0.4) ? random.shuffle(analogNames(glove)) : null,
	};
}

/** Bytes of a frame in which every reading is about two thirds of full scale. */
export function typicalFrameBytes(stream: StreamSpec, glove: GloveSpec): number {
	const names = analogNames(glove);
	const columns = columnsOf(stream, names, glove.buttons.count);
	const values = new Float64Array(names.length + glove.buttons.count + 2).fill(glove.firmware.outputFullScale * 0.66);
	for (let i = names.length; i < values.length; i++) values[i] = i < values.length - 2 ? 1 : 123456;
	return new FrameFormat(stream, columns, glove.firmware.decimals).frame(values).length;
}

const bauds = [9600, 19200, 38400, 57600, 115200, 230400, 250000, 500000, 921600, 1000000, 2000000];

/** Draws how the bytes travel, unhurried and even enough to be healthy: load ≤ 65 %, jitter ≤ 9 % of the interval. */
export function drawLink(random: Random, stream: StreamSpec, glove: GloveSpec, wishes: StreamWishes = {}): LinkSpec {
	const needed = (typicalFrameBytes(stream, glove) * stream.rate * 10) / 0.65;
	const native = !wishes.serial && random.chance(0.2);
	const enough = bauds.filter(baud => baud >= needed);
	const usual =
		enough.includes(115200) && random.chance(0.7) ? 115200 : enough[Math.min(enough.length - 1, random.integer(0, 2))];
	const intervalMs = 1000 / stream.rate;
	// Mean |D| of a poll of period p is p/3, of exponential delays their mean, of sender noise 0.8 of its rms.
	const pollFits = intervalMs * 0.12;
	const delivery = pollFits >= 1 && random.chance(0.7) ? 'poll' : 'direct';
	return {
		...plainLink,
		baud: native || usual === undefined ? null : usual,
		delivery,
		pollMs: delivery === 'poll' ? random.pick([1, 1, 2].filter(ms => ms <= pollFits)) : 1,
		packetBytes: native ? 0 : 62,
		hostDelayMs: random.logUniform(0.002, 0.025) * intervalMs,
		senderJitter: random.logUniform(0.0005, 0.015),
		clockError: random.normal(0, glove.board.family.startsWith('avr') ? 0.002 : 0.00003),
	};
}

/** The same glove with a converter fast enough for the frames: one scan takes at most half an interval. */
export function fitScan(glove: GloveSpec, rate: number): GloveSpec {
	const channels = analogNames(glove).length;
	const most = 0.5 / rate / channels;
	const {firmware, board} = glove;
	const seconds = board.conversionMicroseconds / 1e6;
	// Averages with decimals are what the format is about; other averages give way first.
	const averageOf = firmware.kind === 'averaged' || firmware.averageOf * seconds <= most ? firmware.averageOf : 1;
	const conversionMicroseconds = Math.min(board.conversionMicroseconds, (most / averageOf) * 1e6);
	return {...glove, firmware: {...firmware, averageOf}, board: {...board, conversionMicroseconds}};
}
