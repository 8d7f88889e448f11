import {motionOf, type SimulationSpec} from '../../source/simulator/simulate.ts';

/** One way of a finger: when it set out and arrived, in seconds, and how far it went, as a share of its own span. */
export type Way = {readonly start: number; readonly end: number; readonly share: number; readonly closes: boolean};

/** A stretch of time, seconds. */
export type Stretch = {readonly start: number; readonly end: number};

/**
 * What the hand of a simulation does, read from its motion before any glove made numbers of it: definitions count
 * movements, so this is what can be known at a time (check-values D2, D5.1).
 */
export type Work = {
	/** Ways of each finger in order, by name. */
	readonly ways: Readonly<Record<string, readonly Way[]>>;
	/** Stretches in which the stick is out of its middle quarter, with how far it got to each side (−x, +x, −y, +y). */
	readonly pushes: readonly (Stretch & {readonly reach: readonly [number, number, number, number]})[];
	/** Stretches of at least a second without any way of a finger. */
	readonly rests: readonly Stretch[];
};

/** How often the motion is looked at: a twentieth of the quickest ways there are, 0.2 s (check-values H13). */
const stepSeconds = 0.01;

/** A way counts from a fifth of the finger's span (check-values D2). */
const leastShare = 0.2;

/** Out of the middle quarter on either axis (check-values D5.4, stick-no-return). */
const outOfMiddle = 0.25;

/** Plays the motion of `spec` once more. */
export function workOf(spec: SimulationSpec): Work {
	const {glove, durationSeconds} = spec;
	const motion = motionOf(spec);
	const count = Math.floor(durationSeconds / stepSeconds);
	const bends = glove.fingers.map(() => new Float64Array(count));
	const stick = [new Float64Array(count), new Float64Array(count)] as const;
	for (let n = 0; n < count; n++) {
		const t = n * stepSeconds;
		for (const [i, bend] of bends.entries()) bend[n] = motion.finger(i, t);
		stick[0][n] = motion.stickX(t);
		stick[1][n] = motion.stickY(t);
	}
	const ways = Object.fromEntries(glove.fingers.map(({name}, i) => [name, waysOf(bends[i])]));
	return {ways, pushes: pushesOf(stick), rests: restsOf(Object.values(ways).flat(), durationSeconds)};
}

/** From turning point to turning point; a turn is one once the finger has come back from it by the least share. */
function waysOf(bend: Float64Array): Way[] {
	const span = bend.reduce((a, b) => Math.max(a, b), 0) - bend.reduce((a, b) => Math.min(a, b), 1);
	const ways: Way[] = [];
	if (!(span > 0)) return ways;
	let turn = 0;
	let far = 0;
	let sense = 0;
	for (const [n, value] of bend.entries()) {
		if (sense === 0) {
			if (Math.abs(value - bend[turn]) < leastShare * span) continue;
			sense = Math.sign(value - bend[turn]);
			far = n;
		} else if ((value - bend[far]) * sense >= 0) {
			far = n;
		} else if (Math.abs(value - bend[far]) >= leastShare * span) {
			ways.push(wayOf(bend, turn, far, span));
			turn = far;
			far = n;
			sense = -sense;
		}
	}
	if (sense !== 0) ways.push(wayOf(bend, turn, far, span));
	return ways;
}

/** Between two turns; rest before setting out and after arriving (a twentieth of the way at either end) left out. */
function wayOf(bend: Float64Array, from: number, to: number, span: number): Way {
	const way = bend[to] - bend[from];
	const gone = (n: number): number => (bend[n] - bend[from]) / way;
	let start = from;
	while (start < to && gone(start + 1) < 0.05) start++;
	let end = start;
	while (end < to && gone(end) < 0.95) end++;
	return {start: start * stepSeconds, end: end * stepSeconds, share: Math.abs(way) / span, closes: way > 0};
}

function pushesOf([x, y]: readonly [Float64Array, Float64Array]): Work['pushes'] {
	const pushes: Work['pushes'][number][] = [];
	let start = -1;
	let reach: [number, number, number, number] = [0, 0, 0, 0];
	for (let n = 0; n < x.length; n++) {
		const isOut = Math.max(Math.abs(x[n]), Math.abs(y[n])) > outOfMiddle;
		if (isOut) {
			if (start < 0) [start, reach] = [n, [0, 0, 0, 0]];
			reach = [
				Math.max(reach[0], -x[n]),
				Math.max(reach[1], x[n]),
				Math.max(reach[2], -y[n]),
				Math.max(reach[3], y[n]),
			];
		} else if (start >= 0) {
			pushes.push({start: start * stepSeconds, end: n * stepSeconds, reach});
			start = -1;
		}
	}
	return pushes;
}

function restsOf(ways: readonly Way[], seconds: number): Stretch[] {
	const rests: Stretch[] = [];
	let since = 0;
	for (const {start, end} of [...ways].sort((a, b) => a.start - b.start)) {
		if (start - since >= 1) rests.push({start: since, end: start});
		since = Math.max(since, end);
	}
	if (seconds - since >= 1) rests.push({start: since, end: seconds});
	return rests;
}

/** Fingers as the definition of a whole-hand movement sees them: by name, how far each goes altogether, in any one unit. */
export type Spans = Readonly<Record<string, number>>;

/** Those that set out together, within 0.6 s, each by so much of its own span and of the widest of any finger (check-values D2). */
const togetherSeconds = 0.6;
const ofOwnSpan = 0.4;
const ofWidest = 0.45;

/** When each movement of the whole hand was over that began after `from`, seen from a finger with these `others`. */
export function wholeMovements({ways}: Work, spans: Spans, others: readonly string[], from: number): number[] {
	if (others.length < 2) return [];
	const needed = others.length === 2 ? 2 : Math.max(3, Math.ceil(0.6 * others.length));
	const widest = Math.max(...Object.values(spans));
	const all = others
		.flatMap(finger => (ways[finger] ?? []).map(way => ({...way, finger})))
		.filter(
			({start, share, finger}) => start >= from && share >= Math.max(ofOwnSpan, (ofWidest * widest) / spans[finger]),
		)
		.sort((a, b) => a.start - b.start);
	const ends: number[] = [];
	let taken = Number.NEGATIVE_INFINITY;
	for (const first of all) {
		if (first.start <= taken) continue;
		const along = all.filter(
			({start, closes}) => start >= first.start && start <= first.start + togetherSeconds && closes === first.closes,
		);
		if (new Set(along.map(({finger}) => finger)).size < needed) continue;
		ends.push(Math.max(...along.map(({end}) => end)));
		taken = Math.max(...along.map(({start}) => start));
	}
	return ends;
}
