import {boardWords} from '../board-words.ts';
import {CannotError} from '../cannot-error.ts';
import {parseLayoutOption} from '../framing/parse-layout-option.ts';
import {closestNames} from '../text/closest-names.ts';
import {type BoardSpec, boards} from './boards.ts';
import {parseFault} from './fault-text.ts';
import {firmwareWords} from './firmware-words.ts';
import type {FirmwareSpec, GloveSpec} from './glove.ts';
import {Random} from './random.ts';
import {drawFinger, drawFirmware, drawGlove} from './random-glove.ts';
import {fitScan, typicalFrameBytes} from './random-stream.ts';
import {withReels} from './reel-text.ts';
import {parseScript} from './script-text.ts';
import type {SimulationSpec} from './simulate.ts';
import {plainLink, plainStream, type StreamSpec} from './stream-spec.ts';

/** What can be said about a simulated glove on the command line. */
export type SimulationOptions = {
	readonly seed?: number;
	/** A word of `boardWords`, or a model of `boards`. Default `avr`. */
	readonly board?: string;
	/** Frames per second. Default 100. */
	readonly rate?: number;
	readonly baud?: number;
	/** Channels in order, as every command's `--layout` has them. Default five fingers, stick, two buttons. */
	readonly layout?: string;
	/** One of `formats`. */
	readonly format?: string;
	/** One of `firmwareWords`. Default `raw`. */
	readonly firmware?: string;
	readonly script?: string;
	readonly fault?: readonly string[];
	/** What is odd about reels, see `reel-text.ts`. */
	readonly reel?: readonly string[];
	/** Seconds. */
	readonly for?: number;
};

/** Ways to write a frame, by the word for `--format`. */
const formats: Readonly<Record<string, Partial<StreamSpec>>> = {
	comma: {},
	tab: {separator: '\t'},
	space: {separator: ' '},
	semicolon: {separator: ';'},
	labels: {labelMark: ':'},
	header: {header: true},
	json: {framing: 'json', labelMark: ':', lineEnd: '\n'},
	slip: {framing: 'slip', crc: 'xmodem'},
	cobs: {framing: 'cobs', crc: 'ibm-3740'},
};

const usualLayout = 'thumb,index,middle,ring,little,stick-x,stick-y,button-1,button-2';
const usualScript =
	'rest 2s, fist 4x, each 1x, stick around 2x, stick sides 1x, press button-1 3x, rest 3s, fist 3x, play 10s';

function boardFamily(name: string): string {
	const word = name.toLowerCase();
	if (Object.hasOwn(boardWords, word)) return boardWords[word].model;
	// Also a model by its own name (docs/simulator.md), for boards that read worse than their chip's data sheet says.
	if (Object.hasOwn(boards, word)) return word;
	const known = Object.keys(boardWords);
	const near = closestNames(name, [...known, ...Object.keys(boards)]);
	throw new CannotError(
		`--board does not know "${name}". ${near.length > 0 ? `Did you mean ${near.join(' or ')}?` : `It takes ${known.join(', ')}.`}`,
	);
}

type Columns = {
	fingers: string[];
	stick: boolean;
	stickFirst: boolean;
	buttons: number;
	counter: boolean;
	clock: StreamSpec['clock'];
	metaFirst: boolean;
};

/** What the layout asks the glove to have. */
function readColumns(layout: string): Columns {
	const {channels} = parseLayoutOption(layout);
	const fingers = channels.filter(({role}) => role === 'finger');
	const sticks = channels.filter(({role}) => role === 'stick');
	const clock = channels.find(({role}) => role === 'clock');
	if (fingers.length === 0)
		throw new CannotError(`--layout ${layout} has no finger: name at least one, such as index.`);
	if (channels.some(({role}) => role === 'spare')) {
		throw new CannotError('--layout for a simulation names what the glove has: leave out - and spare.');
	}
	if (
		sticks.length !== 0 &&
		(sticks.length !== 2 || sticks[0].name !== 'stick-x' || sticks[1].index !== sticks[0].index + 1)
	) {
		throw new CannotError('--layout for a simulation takes stick-x,stick-y one after the other, or no stick.');
	}
	const meta = channels.filter(({role}) => role === 'counter' || role === 'clock');
	const buttons = channels.filter(({role}) => role === 'button');
	const analog = [...fingers, ...sticks].map(({index}) => index);
	const ordered = [...channels]
		.map(({role}) => role)
		.filter(role => role !== 'counter' && role !== 'clock')
		.join(' ');
	if (!/^(stick stick )?(finger ?)+(stick stick ?)?(button ?)*$/.test(ordered)) {
		throw new CannotError(
			'--layout for a simulation takes fingers, stick-x,stick-y and buttons in that order, counter and clock before or after them.',
		);
	}
	const metaFirst = meta.length === 0 || meta[0].index < Math.min(...analog);
	if (meta.length === 2 && meta.map(({name}) => name).join() !== 'counter,clock') {
		throw new CannotError('--layout for a simulation takes counter before clock.');
	}
	if (meta.length === 2 && meta[1].index !== meta[0].index + 1) {
		throw new CannotError('--layout for a simulation takes counter and clock side by side.');
	}
	return {
		fingers: fingers.map(({name}) => name),
		stick: sticks.length > 0,
		stickFirst: sticks.length > 0 && sticks[0].index < fingers[0].index,
		buttons: buttons.length,
		counter: meta.some(({role}) => role === 'counter'),
		clock: clock === undefined ? 'none' : clock.clockUnitSeconds === 1e-6 ? 'us' : 'ms',
		metaFirst,
	};
}

/** Draws the program that `word` names. A generator of its own: the same glove and hand come under every program. */
function firmwareOf(word: string, board: BoardSpec, fingers: readonly string[], random: Random): FirmwareSpec {
	if (!(firmwareWords as readonly string[]).includes(word)) {
		throw new CannotError(`--firmware must not be "${word}": it takes ${firmwareWords.join(', ')}.`);
	}
	const [kind, manner] = word.split('/') as ['raw' | 'averaged' | 'scaled' | 'learns', string | undefined];
	// The plain program sends each reading as it is taken.
	const drawn = {...drawFirmware(random, kind, board), ...(kind === 'raw' ? {averageOf: 1} : {})};
	// As strong as smoothing that still lets a quick hand through: common practice, no source.
	if (manner === 'smoothed') return {...drawn, filterStrength: random.uniform(0.3, 0.6)};
	if (manner !== 'glitch') return drawn;
	// Inputs that have not settled give one reading at a rail within the first tenth of a second or so.
	const glitch = {
		finger: random.pick(fingers),
		reading: random.integer(0, 15),
		rail: random.pick(['low', 'high'] as const),
	};
	return {...drawn, glitch};
}

/** A glove with exactly these fingers and this program. */
function gloveWith(columns: Columns, family: string, program: string, random: Random): GloveSpec {
	const drawn = drawGlove(random, {
		board: family,
		fingerCount: columns.fingers.length,
		stick: columns.stick,
		stickFirst: columns.stickFirst,
		buttonCount: columns.buttons,
		activeLow: true,
		firmware: 'raw',
		mirrored: false,
		clearance: 0.07,
		span: [0.4, 0.75],
	});
	const board = boards[family];
	const fingers = columns.fingers.map((name, i) =>
		drawn.fingers[i].name === name
			? drawn.fingers[i]
			: drawFinger(random, name, 0.08 + random.uniform(0, 0.1), random.uniform(0.45, 0.75), false),
	);
	const firmware = firmwareOf(program, board, columns.fingers, random.fork('firmware'));
	return {...drawn, board, fingers, firmware};
}

/** Builds the simulation that the options ask for. Throws `CannotError` for what they cannot mean. */
export function simulationFromOptions(options: SimulationOptions): SimulationSpec {
	const seed = options.seed ?? 1;
	const rate = options.rate ?? 100;
	const family = boardFamily(options.board ?? 'avr');
	const layoutText = options.layout ?? usualLayout;
	const columns = readColumns(layoutText);
	const colon = layoutText.indexOf(':');
	const formatName = options.format ?? (colon > 0 ? layoutText.slice(0, colon).trim().toLowerCase() : 'comma');
	const format = formats[formatName === 'text' ? 'comma' : formatName];
	if (!format) {
		throw new CannotError(`--format must not be "${formatName}": it takes ${Object.keys(formats).join(', ')}.`);
	}
	const drawn = fitScan(gloveWith(columns, family, options.firmware ?? 'raw', new Random(seed).fork('glove')), rate);
	const glove = {...drawn, fingers: withReels(drawn.fingers, options.reel ?? [])};
	const stream: StreamSpec = {
		...plainStream,
		...format,
		rate,
		counter: columns.counter ? 65536 : 0,
		clock: columns.clock,
		metaFirst: columns.metaFirst,
	};
	const packets = stream.framing === 'slip' || stream.framing === 'cobs';
	const baud = options.baud ?? usualBaud(stream, glove);
	return {
		seed,
		durationSeconds: options.for ?? Number.POSITIVE_INFINITY,
		glove,
		stream: packets ? {...stream, clock: stream.clock === 'us' ? 'ms' : stream.clock} : stream,
		link: {...plainLink, baud, hostDelayMs: Math.min(0.1, 20 / rate)},
		script: parseScript(options.script ?? usualScript),
		faults: (options.fault ?? []).map(text => parseFault(text, glove)),
		start: 'clean',
		declared: {fullScale: glove.firmware.outputFullScale, baud},
	};
}

/** 115200, or the next rate that leaves a third of the line free. */
function usualBaud(stream: StreamSpec, glove: GloveSpec): number {
	const needed = (typicalFrameBytes(stream, glove) * stream.rate * 10) / 0.65;
	return [115200, 230400, 500000, 1000000, 2000000].find(baud => baud >= needed) ?? 2000000;
}
