import {type BoardSpec, boards} from './boards.ts';
import {
	converterFullScale,
	type FingerSpec,
	type FirmwareSpec,
	fingerNames,
	type GloveSpec,
	type HandSpec,
	namesOfFingers,
	type StickSpec,
} from './glove.ts';
import type {Random} from './random.ts';

/** Requirements put on a random glove; everything else is drawn. */
export type GloveWishes = {
	/** Board family. */
	readonly board?: string;
	readonly fingerCount?: number;
	readonly stick?: boolean;
	readonly stickFirst?: boolean;
	readonly buttonCount?: number;
	readonly activeLow?: boolean;
	readonly firmware?: FirmwareSpec['kind'];
	/** Every potentiometer mounted the other way round. */
	readonly mirrored?: boolean;
	/** Keeps every finger's ends at least this share of full scale away from the rails. */
	readonly clearance?: number;
	/** Smallest and largest span of the fingers, share of full scale. */
	readonly span?: readonly [number, number];
	/** Highest noise of the board, share of full scale rms. */
	readonly quietBelow?: number;
	/** False: no thumb with less travel than the others. */
	readonly shortThumb?: boolean;
};

/** Draws a finger whose reading goes from `open` to `open + span` (shares of full scale), or the same mirrored. */
export function drawFinger(random: Random, name: string, open: number, span: number, mirrored: boolean): FingerSpec {
	const electricalAngleDegrees = random.weighted([
		[random.normal(270, 6), 6],
		[random.normal(256, 5), 2],
		[random.normal(220, 4), 1],
		[random.normal(300, 5), 1],
	]);
	const cordTravelMm = name.startsWith('thumb') ? random.uniform(17, 26) : random.uniform(31, 47);
	return {
		name,
		cordTravelMm,
		spoolDiameterMm: ((cordTravelMm / (span * electricalAngleDegrees)) * 360) / Math.PI,
		electricalAngleDegrees,
		openAngleDegrees: (mirrored ? 1 - open : open) * electricalAngleDegrees,
		direction: mirrored ? -1 : 1,
		lagMs: random.uniform(10, 60),
		curve: random.uniform(0.85, 1.2),
		// Up to 2.5 %: below the 4 % that must not be called backlash, with room for the cord's lag.
		playShare: random.chance(0.5) ? random.uniform(0, 0.008) : random.uniform(0.005, 0.025),
		returnScatter: random.uniform(0.001, 0.008),
		endResistance: random.chance(0.5) ? random.uniform(0, 0.0005) : random.uniform(0, 0.003),
		// A converter's input hardly loads the wiper; a filter or a long wire's leakage may.
		loadRatio: random.chance(0.7) ? 0 : random.uniform(0, 0.1),
	};
}

/** Draws a hand: its tempo, its fingers' independence, its tremor. */
export function drawHand(random: Random, names: readonly string[]): HandSpec {
	const place = (name: string): number => (fingerNames as readonly string[]).indexOf(name.replace(/-\d+$/, ''));
	// Coupling to the next finger, by which finger moves: thumb most independent, ring and little least (check-values H22, H24).
	const next = [
		random.uniform(0.01, 0.08),
		random.uniform(0.05, 0.22),
		random.uniform(0.08, 0.36),
		random.uniform(0.15, 0.4),
		random.uniform(0.15, 0.4),
	];
	const coupling = names.map((from, i) =>
		names.map((to, j) => {
			if (i === j) return 1;
			const distance = Math.abs(place(from) - place(to));
			// A second reel on the same finger follows most of its movement.
			if (distance === 0) return random.uniform(0.3, 0.8);
			const strength = place(from) === 0 || place(to) === 0 ? next[0] : next[place(from)];
			return strength * 0.45 ** (distance - 1) * random.uniform(0.6, 1);
		}),
	);
	return {
		closeSeconds: random.logUniform(0.24, 0.9),
		durationSpread: random.uniform(0.04, 0.16),
		startSpreadSeconds: random.uniform(0.005, 0.05),
		depth: random.uniform(0.88, 0.98),
		depthSpread: random.uniform(0.01, 0.05),
		relaxed: names.map(() => random.uniform(0.01, 0.08)),
		coupling,
		tremorHertz: random.uniform(8, 12),
		tremorShare: random.chance(0.25) ? 0 : random.logUniform(0.0002, 0.0025),
		stickTremor: random.uniform(0.006, 0.03),
		swayShare: random.logUniform(0.0003, 0.003),
	};
}

function drawStick(random: Random): StickSpec {
	// Short of the rails: a stick that sits at them for a good part of a turn is a fault of its own.
	const end = (): number => random.uniform(0.86, 0.985);
	return {
		restX: 0.5 + random.uniform(-0.05, 0.05),
		restY: 0.5 + random.uniform(-0.05, 0.05),
		reach: [end(), end(), end(), end()],
		// A range of at most 2 % over some ten releases (± 2 standard deviations) is healthy.
		restScatter: random.logUniform(0.0004, 0.004),
		gate: random.chance(0.7) ? 'round' : 'square',
		deadCentre: random.chance(0.6) ? 0 : random.uniform(0, 0.08),
	};
}

export function drawFirmware(random: Random, kind: FirmwareSpec['kind'], board: BoardSpec): FirmwareSpec {
	const plain = {
		kind,
		averageOf: 1,
		filter: 'ema',
		filterStrength: 1,
		deadBandCounts: 0,
		decimals: 0,
		outputFullScale: converterFullScale(board),
	} as const;
	switch (kind) {
		case 'raw': {
			const averageOf = random.weighted([
				[1, 6],
				[4, 1],
				[8, 1],
				[16, 1],
			]);
			return {...plain, averageOf};
		}
		case 'scaled':
		case 'learns':
			return plain;
		case 'filtered': {
			const filter = random.pick(['ema', 'median'] as const);
			return {
				...plain,
				averageOf: random.pick([1, 4, 8]),
				filter,
				filterStrength: filter === 'ema' ? random.uniform(0.3, 0.6) : random.pick([3, 5, 7]),
				deadBandCounts: Math.max(
					2,
					Math.min(Math.ceil(board.noiseRmsCounts * random.uniform(3, 5)), 0.006 * converterFullScale(board)),
				),
			};
		}
		case 'averaged': {
			const averageOf = random.pick([2, 2, 4]);
			return {...plain, averageOf, decimals: averageOf === 2 ? 1 : 2};
		}
		case 'percent':
			return {
				...plain,
				averageOf: random.pick([1, 4]),
				decimals: random.pick([0, 1, 1, 2]),
				outputFullScale: 100,
			};
		case 'mv':
			return {...plain, decimals: random.pick([0, 0, 1, 2]), outputFullScale: Math.round(board.supplyVolts * 1000)};
	}
}

/** Draws a whole healthy glove and a hand for it. */
export function drawGlove(random: Random, wishes: GloveWishes = {}): GloveSpec {
	const fits = Object.values(boards).filter(
		board =>
			(wishes.board === undefined || board.family === wishes.board) &&
			(wishes.quietBelow === undefined || (1.4 * board.noiseRmsCounts) / 2 ** board.adcBits <= wishes.quietBelow),
	);
	const model = random.weighted(fits.map(board => [board, board.share] as const));
	const board: BoardSpec = {
		...model,
		noiseRmsCounts: model.noiseRmsCounts * random.logUniform(0.6, 1.4),
		conversionMicroseconds: model.conversionMicroseconds * random.uniform(0.9, 1.3),
	};
	const fingerCount =
		wishes.fingerCount ??
		random.weighted([
			[5, 12],
			[4, 2],
			[3, 2],
			[10, 1],
		]);
	const names = namesOfFingers(fingerCount);
	const mirrored = wishes.mirrored ?? random.chance(0.25);
	const clearance = wishes.clearance ?? 0.02;
	const low = Math.max(clearance, board.deadLow + 0.01);
	const high = Math.max(clearance, board.deadHigh + 0.01);
	const [smallest, largest] = wishes.span ?? [0.35, 0.86];
	// One builder uses one spool size: spans differ by finger around a common figure.
	const common = random.uniform(smallest, largest);
	const fingers = names.map(name => {
		const short = name.startsWith('thumb') && (wishes.shortThumb ?? random.chance(0.6));
		const floor = short ? smallest * 0.55 : smallest;
		const wanted = common * random.uniform(0.85, 1.15) * (short ? random.uniform(0.5, 0.7) : 1);
		const span = Math.min(Math.max(wanted, floor), largest, 1 - low - high);
		const room = 1 - low - high - span;
		const share = random.chance(0.7) ? random.uniform(0, 0.5) : random.uniform();
		// `open` counts from the end at which a stretched finger sits, so a mirrored glove swaps the dead ends.
		const open = (mirrored ? high : low) + room * share;
		return drawFinger(random, name, open, span, mirrored);
	});
	const kind =
		wishes.firmware ??
		random.weighted([
			['raw', 10],
			['scaled', 2],
			['filtered', 2],
			['averaged', 1],
			['percent', 1],
			['mv', 1],
		] as const);
	const shortest = random.uniform(0.07, 0.12);
	return {
		board,
		fingers,
		stick: (wishes.stick ?? random.chance(0.65)) ? drawStick(random) : null,
		stickFirst: wishes.stickFirst ?? random.chance(0.1),
		buttons: {
			count: wishes.buttonCount ?? random.integer(0, 3),
			activeLow: wishes.activeLow ?? random.chance(0.7),
			pressSeconds: [shortest, shortest + random.uniform(0.05, 0.4)],
		},
		firmware: drawFirmware(random, kind, board),
		hand: drawHand(random, names),
	};
}
