import {medianOf} from '../math/nth-smallest.ts';
import {meanOf, sumOf} from '../math/sums.ts';

/** What a straight reel has to keep, and what a curve is called that does not (specification E). */
const rulerLimits = {
	/** Last steps over first steps: with a straight pot and a ruler good to 0.3 mm between 0.94 and 1.07. */
	taperRatio: 2,
	/** Half of the residual range about the best line, % of span; a straight pot shows 0.3 to 0.9. */
	taperLinearity: 8,
	/** A step of the slope, % : a second layer of cord on the spool. */
	layerStep: {least: 3, most: 20},
	/** A step stands out that explains so much of what the line leaves, beside what a smooth bow would. */
	layerShare: 0.8,
	/** A bow that is named, % of span: below it the ruler's own error shows as much, above it no load of a good glove bends so far. */
	bow: {least: 1.5, most: 3},
	/** A single bow explains so much of what the line leaves. */
	bowShare: 0.8,
	/** Fewer marks make no curve. */
	leastMarks: 4,
	/** Steps at an end of the track: less than so much of the usual step. */
	flatShare: 0.15,
} as const;

export type TaperClass =
	| 'straight'
	| 'audio taper'
	| 'reverse audio taper'
	| 'second layer'
	| 'bow up'
	| 'bow down'
	/** Off the line without a shape of its own, up to what a pot of ±5 % may be. */
	| 'uneven'
	| 'curved';

/** What the ruler says of one reel. Levels in the unit of the readings. */
export type RulerFigures = {
	/** Mean level at each mark, from the first on, and the millimetres of it. */
	readonly curve: readonly {readonly mm: number; readonly level: number; readonly visits: number}[];
	readonly mmPerCount: number;
	/** Half of the range of what the best line leaves, % of span (independent linearity, IEC 60393). */
	readonly linearityPercent: number;
	/** Median slope of the last three steps over that of the first three. */
	readonly slopeRatio: number;
	/** Median difference between out and back at the same mark, % of span; null without a way back. */
	readonly hysteresisPercent: number | null;
	/** Pooled standard deviation of visits of the same mark the same way, % of span; null without a second visit. */
	readonly repeatabilityPercent: number | null;
	/** d = 360 · mm / (π · track° · counts / FS); null where track or scale are not known, or the firmware scales. */
	readonly spoolDiameterMm: number | null;
	readonly taper: TaperClass;
	/** Marks at the end of the track, left out. */
	readonly leftOut: number;
};

export type RulerOptions = {
	/** Millimetres from mark to mark. */
	readonly stepMm: number;
	/** Full scale of the readings, and the electrical angle of the track; left out where one is not known or firmware scales. */
	readonly fullScale?: number;
	readonly electricalAngleDeg?: number;
};

/** Why a pull along a ruler says nothing, in a sentence with what to do. */
export type RulerRefusal = {readonly reason: string};

/**
 * Visits of a mark that lie so much of a step apart are of two marks: a skip puts them a whole step apart. The same way the
 * ruler is what they may differ by (0.3 mm each: 0.08 of a step of 5 mm, six of its standard deviations are 0.5). Out and back also
 * differ by what the reel lags: 10 % of eight steps are 0.8 of one. They are compared where no second way the same way tells.
 */
const skipShare = {sameWay: 0.6, bothWays: 0.95};

type Visit = {readonly mark: number; readonly way: 1 | -1; readonly level: number};

/**
 * Judges the stays of a reel whose cord was pulled from mark to mark along a ruler, out and back, once or more.
 *
 * @param levels Stays in order; the first is at mark 0.
 */
export function judgeRuler(levels: readonly number[], options: RulerOptions): RulerFigures | RulerRefusal {
	const visits = numbered(levels);
	if ('reason' in visits) return visits;
	const marks = Math.max(...visits.map(({mark}) => mark)) + 1;
	const means = Array.from({length: marks}, (_, mark) => {
		const here = visits.filter(visit => visit.mark === mark).map(({level}) => level);
		return {mm: mark * options.stepMm, level: meanOf(here), visits: here.length};
	});
	const curve = withoutFlatEnds(means);
	if (curve.length < rulerLimits.leastMarks)
		return {
			reason: `Only ${curve.length} marks before the end of the track: use shorter steps, or begin further in.`,
		};
	const levelsOf = curve.map(({level}) => level);
	const rising = levelsOf[levelsOf.length - 1] > levelsOf[0] ? 1 : -1;
	const span = Math.abs(levelsOf[levelsOf.length - 1] - levelsOf[0]);
	const line = bestLine(
		curve.map(({mm}) => mm),
		levelsOf,
	);
	const residuals = curve.map(({mm, level}) => (level - line.intercept - line.slope * mm) * rising);
	const linearityPercent = (50 * (Math.max(...residuals) - Math.min(...residuals))) / span;
	const steps = levelsOf.slice(1).map((level, i) => (level - levelsOf[i]) * rising);
	const ends = Math.min(3, Math.floor(steps.length / 2));
	const slopeRatio = medianOf(steps.slice(-ends)) / medianOf(steps.slice(0, ends));
	const first = curve[0].mm / options.stepMm;
	const inside = visits.filter(({mark}) => mark >= first && mark < first + curve.length);
	const {fullScale, electricalAngleDeg} = options;
	const counts = Math.abs(line.slope) * options.stepMm * (curve.length - 1);
	const mm = options.stepMm * (curve.length - 1);
	return {
		curve,
		mmPerCount: 1 / Math.abs(line.slope),
		linearityPercent,
		slopeRatio,
		// Of the way by the line: the farthest mark is reached one way only, and lags behind by half of it.
		hysteresisPercent: hysteresis(inside, counts),
		repeatabilityPercent: repeatability(inside, span),
		spoolDiameterMm:
			fullScale === undefined || electricalAngleDeg === undefined
				? null
				: (360 * mm) / (Math.PI * electricalAngleDeg * (counts / fullScale)),
		taper: classOf(slopeRatio, linearityPercent, residuals, steps),
		leftOut: marks - curve.length,
	};
}

/** Gives each stay the number of its mark: up while the cord goes out, down on its way back. */
function numbered(levels: readonly number[]): Visit[] | RulerRefusal {
	if (levels.length < rulerLimits.leastMarks)
		return {
			reason: `${levels.length} stays were seen: pull to each mark and hold it for a second, four marks or more.`,
		};
	const farthest = levels.reduce(
		(far, level, i) => (Math.abs(level - levels[0]) > Math.abs(levels[far] - levels[0]) ? i : far),
		0,
	);
	const out = Math.sign(levels[farthest] - levels[0]);
	const visits: Visit[] = [{mark: 0, way: 1, level: levels[0]}];
	let mark = 0;
	let way: 1 | -1 = 1;
	for (let i = 1; i < levels.length; i++) {
		way = Math.sign(levels[i] - levels[i - 1]) === out ? 1 : -1;
		mark += way;
		if (mark < 0) return {reason: 'The cord went back beyond the first mark: begin at the mark where it is slack.'};
		visits.push({mark, way, level: levels[i]});
	}

	// A mark that was skipped, or one too many on the way back, puts a level where another one was.
	const marks = Math.max(...visits.map(visit => visit.mark)) + 1;
	const levelsAt = Array.from({length: marks}, (_, each) => visits.filter(visit => visit.mark === each));
	const usual = medianOf(levelsAt.slice(1).map((here, i) => Math.abs(levelOf(here) - levelOf(levelsAt[i]))));
	for (const [each, here] of levelsAt.entries()) {
		const step = Math.max(usual, localStep(levelsAt, each));
		const oneWay = [1, -1].map(side => rangeOf(visits.filter(visit => visit.mark === each && visit.way === side)));
		const isRepeated = [1, -1].some(side => here.filter(({way: own}) => own === side).length > 1);
		if (Math.max(...oneWay) <= skipShare.sameWay * step && (isRepeated || apart(here) <= skipShare.bothWays * step))
			continue;
		return {
			reason: `At mark ${each + 1} the readings of one visit and another differ by a whole step: a mark was skipped. Pull this reel again.`,
		};
	}

	return visits;
}

function localStep(levelsAt: readonly (readonly Visit[])[], mark: number): number {
	const near = [mark - 1, mark + 1].filter(other => other >= 0 && other < levelsAt.length);
	return Math.max(...near.map(other => Math.abs(levelOf(levelsAt[other]) - levelOf(levelsAt[mark]))));
}

function levelOf(visits: readonly Visit[]): number {
	return meanOf(visits.map(({level}) => level));
}

/** How far the visits on the way back lie from those on the way out; 0 without either. */
function apart(visits: readonly Visit[]): number {
	const [out, back] = [1, -1].map(side => visits.filter(({way}) => way === side));
	return out.length > 0 && back.length > 0 ? Math.abs(levelOf(out) - levelOf(back)) : 0;
}

/** 0 without a visit. */
function rangeOf(visits: readonly Visit[]): number {
	const levels = visits.map(({level}) => level);
	return levels.length === 0 ? 0 : Math.max(...levels) - Math.min(...levels);
}

/** Steps at either end that hardly change the reading lie at the end of the track. */
function withoutFlatEnds<T extends {readonly level: number}>(means: readonly T[]): readonly T[] {
	const steps = means.slice(1).map(({level}, i) => Math.abs(level - means[i].level));
	const usual = medianOf(steps);
	let [from, to] = [0, means.length];
	const isFlat = (step: number, neighbour: number): boolean =>
		step < rulerLimits.flatShare * Math.min(usual, neighbour);
	while (to - from > 2 && isFlat(steps[to - 2], steps[to - 3])) to--;
	while (to - from > 2 && isFlat(steps[from], steps[from + 1])) from++;
	return means.slice(from, to);
}

function classOf(ratio: number, linearity: number, residuals: readonly number[], steps: readonly number[]): TaperClass {
	const {taperRatio, taperLinearity, bow} = rulerLimits;
	if (linearity >= taperLinearity) {
		// Where the kink lies near an end, the three steps there are partly of the other side.
		for (const one of [ratio, bestSplit(steps)?.ratio ?? 1]) {
			if (one > taperRatio) return 'audio taper';
			if (one < 1 / taperRatio) return 'reverse audio taper';
		}

		return 'curved';
	}

	if (isLayer(steps)) return 'second layer';
	if (linearity < bow.least) return 'straight';
	const curvature = bowOf(residuals);
	if (linearity > bow.most || curvature === 0) return 'uneven';
	return curvature < 0 ? 'bow up' : 'bow down';
}

/** Two runs of steps that differ most from each other, two steps at least in each, and what is left about their means. */
function bestSplit(steps: readonly number[]): {readonly ratio: number; readonly left: number} | undefined {
	let best: {ratio: number; left: number} | undefined;
	for (let at = 2; at <= steps.length - 2; at++) {
		const [before, after] = [steps.slice(0, at), steps.slice(at)];
		const [a, b] = [meanOf(before), meanOf(after)];
		const left = sumOf(before.map(step => (step - a) ** 2)) + sumOf(after.map(step => (step - b) ** 2));
		if (best === undefined || left < best.left) best = {ratio: b / a, left};
	}

	return best;
}

/** One place at which the steps grow (or shrink) by 3 to 20 % and are alike on both sides. */
function isLayer(steps: readonly number[]): boolean {
	if (steps.length < 6) return false;
	const total = squares(steps);
	const split = bestSplit(steps);
	if (total === 0 || split === undefined) return false;
	const {layerStep, layerShare} = rulerLimits;
	const percent = 100 * Math.abs(split.ratio - 1);
	// A smooth bow makes every step a little larger than the one before.
	const places = steps.map((_, i) => i);
	const {slope, intercept} = bestLine(places, steps);
	const trend = sumOf(steps.map((step, i) => (step - intercept - slope * i) ** 2));
	return (
		percent >= layerStep.least &&
		percent <= layerStep.most &&
		1 - split.left / total >= layerShare &&
		split.left < trend
	);
}

/** Second differences' sign of a parabola through what the line leaves; 0 where it explains too little of it. */
function bowOf(residuals: readonly number[]): number {
	const middle = (residuals.length - 1) / 2;
	const parabola = residuals.map((_, i) => (i - middle) ** 2);
	const {slope, intercept} = bestLine(parabola, residuals);
	const left = sumOf(residuals.map((each, i) => (each - intercept - slope * parabola[i]) ** 2));
	return 1 - left / squares(residuals) >= rulerLimits.bowShare ? Math.sign(slope) : 0;
}

/** Squares about the mean, added up. */
function squares(values: readonly number[]): number {
	const middle = meanOf(values);
	return sumOf(values.map(value => (value - middle) ** 2));
}

function hysteresis(visits: readonly Visit[], span: number): number | null {
	const differences: number[] = [];
	for (const mark of new Set(visits.map(visit => visit.mark))) {
		const [out, back] = [1, -1].map(way =>
			visits.filter(visit => visit.mark === mark && visit.way === way).map(({level}) => level),
		);
		if (out.length > 0 && back.length > 0) differences.push(Math.abs(meanOf(out) - meanOf(back)));
	}

	return differences.length === 0 ? null : (100 * medianOf(differences)) / span;
}

function repeatability(visits: readonly Visit[], span: number): number | null {
	let about = 0;
	let freedom = 0;
	for (const mark of new Set(visits.map(visit => visit.mark))) {
		for (const way of [1, -1]) {
			const here = visits.filter(visit => visit.mark === mark && visit.way === way).map(({level}) => level);
			if (here.length < 2) continue;
			about += squares(here);
			freedom += here.length - 1;
		}
	}

	return freedom === 0 ? null : (100 * Math.sqrt(about / freedom)) / span;
}

/** Least squares. */
export function bestLine(
	x: readonly number[],
	y: readonly number[],
): {readonly slope: number; readonly intercept: number} {
	const [mx, my] = [meanOf(x), meanOf(y)];
	const slope = sumOf(x.map((each, i) => (each - mx) * (y[i] - my))) / sumOf(x.map(each => (each - mx) ** 2));
	return {slope, intercept: my - slope * mx};
}

/** Nine readings at even lengths of cord, first to last mark: what a firmware looks a bending up in. */
export function ninePoints({curve}: Pick<RulerFigures, 'curve'>): number[] {
	const most = curve.length - 1;
	return Array.from({length: 9}, (_, i) => {
		const place = (i / 8) * most;
		const below = Math.min(most - 1, Math.floor(place));
		return curve[below].level + (place - below) * (curve[below + 1].level - curve[below].level);
	});
}
