import type {FaultSpec} from '../../source/simulator/fault-model.ts';
import {faultModels} from '../../source/simulator/faults/catalogue.ts';
import type {Gesture, Script, Step} from '../../source/simulator/gesture.ts';
import {analogNames, type FirmwareSpec, type GloveSpec} from '../../source/simulator/glove.ts';
import type {Random} from '../../source/simulator/random.ts';
import {drawGlove, type GloveWishes} from '../../source/simulator/random-glove.ts';
import {
	drawLink,
	drawStream,
	fitScan,
	type StreamWishes,
	typicalFrameBytes,
} from '../../source/simulator/random-stream.ts';
import {type SimulationSpec, type Truth, truthOf} from '../../source/simulator/simulate.ts';
import type {LinkSpec, StreamSpec} from '../../source/simulator/stream-spec.ts';

/** A simulation drawn at random, with what is known of it. */
export type Scenario = {
	/** For lists: the fault's code, or the healthy case. */
	readonly name: string;
	readonly spec: SimulationSpec;
	/** As far as it is settled before the run: everything but `ranges` and `closings`. */
	readonly truth: Truth;
};

export type ScenarioWishes = {
	/** Code of the fault; drawn if left out. */
	readonly code?: string;
	/** Default: drawn from 0 … 1. */
	readonly severity?: number;
	readonly variant?: string;
};

/** What a fault needs of glove, stream and script to show itself. */
type Evidence = {
	readonly glove?: (random: Random) => GloveWishes;
	readonly stream?: StreamWishes;
	/** Steps that give the evidence; they come once per round of the script. */
	readonly steps?: (random: Random, glove: GloveSpec, channel: string | null) => Step[];
	/** The whole hand closes in one go, as where a builder makes fists to show it: unlike gestures are no play (check-values D5.4). */
	readonly asOne?: boolean;
	/** The fault is there from the first frame to the last. */
	readonly whole?: boolean;
	readonly seconds?: readonly [number, number];
};

const counts = (random: Random): FirmwareSpec['kind'] =>
	random.weighted([
		['raw', 8],
		['averaged', 1],
		['mv', 0.7],
	] as const);

/** Steps for faults of fingers: rest, the whole hand, every finger alone. */
function fingerWork(random: Random): Step[] {
	return [
		[{kind: 'rest', seconds: random.uniform(2, 4.5)}],
		[{kind: 'fist', times: random.integer(4, 7)}],
		[{kind: 'each', times: 1}],
		[{kind: 'rest', seconds: random.uniform(2.5, 4)}],
		[{kind: 'fist', times: random.integer(3, 5)}],
	];
}

function stickWork(random: Random): Step[] {
	return [
		[{kind: 'rest', seconds: random.uniform(2, 4)}],
		[{kind: 'stick-around', times: random.integer(3, 4)}],
		[{kind: 'stick-sides', times: random.integer(2, 3)}],
		[{kind: 'fist', times: random.integer(3, 5)}],
		[{kind: 'stick-around', times: 2}],
	];
}

function pressWork(random: Random, glove: GloveSpec): Step[] {
	return [
		...Array.from(
			{length: glove.buttons.count},
			(_, i): Step => [{kind: 'press', button: i + 1, times: random.integer(8, 14)}],
		),
		[{kind: 'rest', seconds: random.uniform(2, 4)}],
		[{kind: 'fist', times: 3}],
	];
}

/** Anything a wearer does: for faults of the link. */
export function anyWork(random: Random, glove: GloveSpec): Step[] {
	// One favourite finger: two fingers that work while a third lies still are what a dead channel looks like.
	const favourite = random.pick(glove.fingers).name;
	const steps: Step[] = [];
	for (let n = random.integer(4, 8); n > 0; n--) {
		const gesture = random.weighted<Gesture>([
			[{kind: 'rest', seconds: random.uniform(1, 6)}, 3],
			[{kind: 'fist', times: random.integer(2, 6)}, 4],
			[{kind: 'each', times: 1}, 2],
			[{kind: 'curl', finger: favourite, times: random.integer(1, 4)}, 2],
			[{kind: 'tap', finger: favourite, times: random.integer(6, 20)}, 1],
			[{kind: 'sweep', times: 1}, 1],
			[{kind: 'roll', times: random.integer(1, 3)}, 1],
			[{kind: 'pose', seconds: random.uniform(1, 4)}, 1],
			[{kind: 'play', seconds: random.uniform(5, 12)}, 2],
			[{kind: 'fist', times: random.integer(4, 8), hertz: random.uniform(1.8, 3.3)}, 1],
		]);
		const beside: Gesture[] = [];
		if (glove.stick && random.chance(0.25)) beside.push({kind: 'stick-sides', times: 1});
		if (glove.buttons.count > 0 && random.chance(0.25)) {
			beside.push({kind: 'press', button: random.integer(1, glove.buttons.count), times: random.integer(1, 4)});
		}
		steps.push([gesture, ...beside]);
	}
	if (glove.stick) steps.push([{kind: 'stick-around', times: random.integer(1, 3)}]);
	if (glove.buttons.count > 0) steps.push([{kind: 'press', button: 1, times: random.integer(2, 4)}]);
	return random.shuffle(steps);
}

const finger: Evidence = {
	glove: random => ({firmware: counts(random), clearance: 0.09, span: [0.35, 0.78]}),
	steps: fingerWork,
};

const stick: Evidence = {
	glove: random => ({firmware: counts(random), stick: true}),
	steps: stickWork,
	whole: true,
	seconds: [40, 60],
};

const still: Evidence = {...finger, glove: random => ({...finger.glove!(random), quietBelow: 0.0006})};

/** Whatever the code needs beyond a random glove at random work. */
const evidence: Readonly<Record<string, Evidence>> = {
	'floating-input': finger,
	'stuck-low': still,
	'stuck-high': still,
	'stuck-mid': still,
	dropout: finger,
	'excess-noise': finger,
	'mains-hum': {...finger, stream: {rates: [30, 1000]}},
	'clipped-range': {...finger, whole: true},
	'narrow-span': {...finger, whole: true},
	'baseline-drift': {
		...finger,
		steps: random => [
			[{kind: 'rest', seconds: random.uniform(2, 4)}],
			[{kind: 'fist', times: random.integer(7, 10)}],
			[{kind: 'rest', seconds: random.uniform(1.5, 3)}],
			[{kind: 'fist', times: random.integer(4, 6)}],
		],
		seconds: [40, 60],
	},
	backlash: {
		...finger,
		whole: true,
		asOne: true,
		steps: random => [
			[{kind: 'rest', seconds: 2}],
			[{kind: 'fist', times: random.integer(5, 8)}],
			[{kind: 'sweep', times: random.integer(2, 3)}],
		],
		seconds: [40, 60],
	},
	'coarse-steps': {
		...finger,
		whole: true,
		glove: random => ({firmware: random.pick(['raw', 'raw', 'scaled'] as const)}),
	},
	'reversed-sensor': {
		...finger,
		whole: true,
		glove: random => ({firmware: random.pick(['raw', 'raw', 'scaled', 'averaged', 'filtered'] as const)}),
	},
	'duplicate-channel': {...finger, whole: true},
	crosstalk: {
		glove: random => ({firmware: counts(random), stick: true, clearance: 0.06}),
		steps: random => [
			...fingerWork(random),
			[{kind: 'stick-sides', times: 3}],
			[{kind: 'rest', seconds: 1}],
			[{kind: 'stick-around', times: 2}],
		],
		whole: true,
	},
	'supply-ripple': {
		glove: random => ({
			firmware: counts(random),
			clearance: 0.2,
			span: [0.3, 0.55],
			quietBelow: 0.0018,
			mirrored: random.chance(0.5),
		}),
		steps: fingerWork,
	},
	'shared-ceiling': {
		...finger,
		whole: true,
		glove: random => ({firmware: counts(random), fingerCount: random.pick([4, 5, 5])}),
	},
	'wrong-full-scale': {
		glove: random => ({firmware: random.pick(['raw', 'scaled'] as const), span: [0.5, 0.86]}),
		steps: fingerWork,
		whole: true,
	},
	'stick-off-centre': stick,
	'stick-no-return': {
		...stick,
		steps: random => [
			[{kind: 'rest', seconds: 2}],
			[{kind: 'stick-sides', times: random.integer(4, 6)}],
			[{kind: 'fist', times: 2}],
		],
	},
	'stick-short-throw': stick,
	'button-bounce': {
		glove: random => ({buttonCount: random.integer(1, 3)}),
		stream: {rates: [150, 1000]},
		steps: pressWork,
	},
	'button-floating': {
		glove: random => ({buttonCount: random.integer(1, 3)}),
		stream: {rates: [30, 1000]},
		steps: pressWork,
	},
	'button-held': {
		glove: random => ({buttonCount: random.integer(2, 3)}),
		steps: pressWork,
		whole: true,
		seconds: [35, 50],
	},
	'wrong-baud': {stream: {serial: true, text: true, rates: [45, 200]}, whole: true, seconds: [15, 25]},
	'broken-frames': {stream: {text: true}},
	'slow-frames': {},
	'uneven-frames': {stream: {rates: [45, 250]}},
	stall: {stream: {rates: [45, 500]}},
	'bursty-delivery': {stream: {rates: [45, 500]}},
	'lost-frames': {stream: {counter: true}},
	// The frames just fill the line from the first on.
	'line-saturated': {stream: {serial: true, text: true}, whole: true},
	'device-restart': {stream: {text: true}},
	'stray-text': {stream: {text: true}},
	silent: {},
	'port-lost': {},
	'swapped-channels': {...finger, whole: true},
	'stick-reversed': stick,
	'stick-swapped': stick,
};

/** Codes that `randomScenario` draws from: every one that a stream alone can show, without a sheet or a question. */
export const scenarioCodes: readonly string[] = [...faultModels.keys()].filter(
	code => !['swapped-channels', 'stick-reversed', 'stick-swapped', 'settings-stale'].includes(code),
);

/** `--layout` that a user would have to give, or null where the stream tells by itself. */
export function layoutNeeded(glove: GloveSpec, stream: StreamSpec): string | null {
	const names = analogNames(glove);
	const fingers = glove.fingers.length;
	const selfTelling = stream.framing === 'json' || stream.labelMark !== null || stream.header;
	const usual = !glove.stickFirst && (fingers === 5 || (fingers === 10 && glove.stick !== null));
	if (selfTelling || (usual && stream.framing === 'text')) return null;
	const readings = [...names, ...Array.from({length: glove.buttons.count}, (_, i) => `button-${i + 1}`)];
	const meta = [
		...(stream.counter > 0 ? ['counter'] : []),
		...(stream.clock === 'none' ? [] : [`clock-${stream.clock}`]),
	];
	const columns = stream.metaFirst ? [...meta, ...readings] : [...readings, ...meta];
	return (stream.framing === 'text' ? '' : `${stream.framing}:`) + columns.join(',');
}

/** What a user declares about a healthy glove: now and then its full scale, always what the stream can't tell. */
export function declare(random: Random, glove: GloveSpec, stream: StreamSpec): SimulationSpec['declared'] {
	const {kind, outputFullScale} = glove.firmware;
	// Millivolts and percent don't tell their top by themselves, nor do converters beyond twelve bits.
	const telling = kind !== 'percent' && kind !== 'mv' && outputFullScale <= 4095;
	return {
		fullScale: !telling || random.chance(0.5) ? outputFullScale : null,
		layout: layoutNeeded(glove, stream),
		// Where fewer frames than usual are meant to come, the sheet says so.
		targetRate: stream.rate < 46 ? Math.floor(stream.rate * 0.95) : null,
	};
}

/** Settings of a line that the frames just fill. */
function saturate(
	random: Random,
	glove: GloveSpec,
	stream: StreamSpec,
	link: LinkSpec,
): {stream: StreamSpec; link: LinkSpec} {
	const bytes = typicalFrameBytes(stream, glove);
	const fitting = [9600, 19200, 38400, 57600, 115200].filter(baud => {
		const rate = baud / 10 / bytes;
		return rate >= 46 && rate <= 450;
	});
	const baud = fitting.length > 0 ? random.pick(fitting) : 115200;
	const rate = baud / 10 / bytes;
	return {stream: {...stream, rate}, link: {...link, baud, delivery: 'direct', hostDelayMs: 60 / rate}};
}

function drawChannel(random: Random, code: string, glove: GloveSpec): string | null {
	const model = faultModels.get(code)!;
	const fingers = glove.fingers.map(({name}) => name);
	switch (model.scope) {
		case 'finger':
			return random.pick(fingers);
		case 'stick':
			return random.pick(['stick-x', 'stick-y']);
		case 'button':
			return `button-${random.integer(1, glove.buttons.count)}`;
		case 'analog':
			if (code === 'crosstalk') return glove.stickFirst ? fingers[0] : 'stick-x';
			if (
				glove.stick &&
				random.chance(0.1) &&
				['stuck-low', 'stuck-high', 'clipped-range', 'floating-input', 'excess-noise'].includes(code)
			) {
				return random.pick(['stick-x', 'stick-y']);
			}
			return random.pick(fingers);
		default:
			return null;
	}
}

/** Faults that come in company: a broken board leaves several pins open, coarse numbers are on every channel. */
function company(random: Random, fault: FaultSpec, glove: GloveSpec): FaultSpec[] {
	const names = analogNames(glove);
	const at = names.indexOf(fault.channel ?? '');
	if (fault.code === 'floating-input' && fault.variant === 'plateau') {
		// The whole harness is off: every pin settles.
		return glove.fingers.map(({name}) => ({...fault, channel: name}));
	}
	if (fault.code === 'floating-input' && at >= 0 && random.chance(0.25)) {
		// Open pins read one after the other copy each other.
		const more = names.slice(at + 1, at + 1 + random.integer(1, 3));
		return [
			fault,
			...more.map(channel => ({...fault, channel, variant: fault.variant === 'plateau' ? 'plateau' : 'ghost'})),
		];
	}
	if (fault.code === 'coarse-steps' && random.chance(0.5)) {
		return glove.fingers.map(({name}) => ({...fault, channel: name}));
	}
	if ((fault.code === 'stuck-high' || fault.code === 'stuck-low') && random.chance(0.25)) {
		const other = random.pick(names.filter(name => name !== fault.channel && !name.startsWith('stick')));
		if (glove.fingers.length >= 5) return [fault, {...fault, channel: other}];
	}
	return [fault];
}

/** Codes whose faults may come and go within one scenario. */
const passing: ReadonlySet<string> = new Set([
	'floating-input',
	'dropout',
	'excess-noise',
	'mains-hum',
	'supply-ripple',
	'broken-frames',
	'uneven-frames',
	'bursty-delivery',
	'lost-frames',
	'stray-text',
	'button-floating',
]);

/** Fingers that set out within a hundredth of a second, take as long and have reels that lag alike. */
function inOneGo(glove: GloveSpec): GloveSpec {
	return {
		...glove,
		fingers: glove.fingers.map(finger => ({...finger, lagMs: 25 + 0.2 * (finger.lagMs - 25)})),
		hand: {...glove.hand, startSpreadSeconds: 0.005, durationSpread: 0.02},
	};
}

/**
 * The scale of a glove that never gets near the top of what a host assumes: nobody can hold a share of full scale against one
 * that is told by neither the stream nor the user.
 */
function untold({firmware}: GloveSpec): SimulationSpec['declared'] {
	return firmware.outputFullScale < 1000 ? {fullScale: firmware.outputFullScale} : {};
}

function attempt(random: Random, code: string, wishes: ScenarioWishes): Scenario {
	const needs = evidence[code] ?? {};
	const drawn = drawGlove(random.fork('glove'), needs.glove?.(random));
	let stream = drawStream(random.fork('stream'), drawn, needs.stream ?? {rates: [45, 1000]});
	let link = drawLink(random.fork('link'), stream, drawn, needs.stream);
	if (code === 'line-saturated') ({stream, link} = saturate(random, drawn, stream, link));
	const fitted = fitScan(drawn, stream.rate);
	const glove = needs.asOne ? inOneGo(fitted) : fitted;
	if (code === 'bursty-delivery') link = {...link, packetBytes: 0};
	const channel = drawChannel(random, code, glove);
	const own = needs.steps?.(random, glove, channel) ?? anyWork(random, glove);
	if (channel?.startsWith('stick-') && needs.steps === fingerWork) {
		own.push([{kind: 'stick-sides', times: 2}], [{kind: 'stick-around', times: 2}]);
	}
	const extra = needs.steps ? random.shuffle(anyWork(random, glove)).slice(0, 2) : [];
	const script: Script = [...own, ...extra];
	const passes = passing.has(code) && random.chance(0.15);
	const durationSeconds = passes ? random.uniform(50, 65) : random.uniform(...(needs.seconds ?? [30, 50]));
	const late = passes || (!needs.whole && code !== 'silent' && random.chance(0.35));
	const from = late ? random.uniform(0.15, 0.35) * durationSeconds : 0;
	const fault: FaultSpec = {
		code,
		channel,
		severity: wishes.severity ?? random.uniform(0, 1),
		variant: wishes.variant ?? random.pick(faultModels.get(code)!.variants),
		...(late ? {from} : {}),
		...(passes ? {to: Math.min(durationSeconds - 4, from + random.uniform(25, 32))} : {}),
	};
	const spec: SimulationSpec = {
		seed: random.bits(),
		durationSeconds,
		glove,
		stream,
		link,
		script,
		faults: company(random, fault, glove),
		start: random.pick(['mid-line', 'clean', 'clean', 'boot'] as const),
		declared: {...declare(random, glove, stream), ...untold(glove)},
	};
	return {name: code, spec, truth: truthOf(spec)};
}

/**
 * A glove with one fault, drawn with what the fault needs to show itself. With a severity of 0 or more every fault
 * injected is one that a diagnosis must name; if fifty draws bring none (a variant that never meets the definition),
 * the last one is returned as it is, and its truth says `may`.
 */
export function randomScenario(random: Random, wishes: ScenarioWishes = {}): Scenario {
	const code = wishes.code ?? random.pick(scenarioCodes);
	if (!faultModels.has(code)) throw new RangeError(`no fault is called ${code}`);
	let scenario = attempt(random, code, wishes);
	const severity = wishes.severity ?? 0;
	for (let n = 0; n < 50 && severity >= 0 && scenario.truth.faults[0].expect !== 'must'; n++) {
		scenario = attempt(random, code, wishes);
	}
	return scenario;
}
