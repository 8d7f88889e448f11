import type {FaultTruth, SimulationSpec, Truth} from '../../source/simulator/simulate.ts';
import {type Spans, type Stretch, type Work, wholeMovements, workOf} from './first-work.ts';

/** What a session with this fault gave to see. */
type Scene = {
	readonly fault: FaultTruth;
	readonly work: Work;
	/** How far each finger's numbers go. */
	readonly spans: Spans;
	/** Fingers without a fault of their own. */
	readonly sound: readonly string[];
	/** Channel read before the fault's own, '' for the first. */
	readonly before: string;
	readonly seconds: number;
	/** Frames that the board made. */
	readonly frames: number;
};

/** When what docs/faults.md asks for had been seen, seconds; null where this session never gives it. */
type Evidence = (scene: Scene) => number | null;

const never = Number.POSITIVE_INFINITY;
const isStick = ({fault}: Scene): boolean => fault.channel?.startsWith('stick-') === true;
const latest = (...times: readonly (number | null)[]): number | null =>
	times.includes(null) ? null : Math.max(...(times as readonly number[]));

/** The end of the `count`th movement of the whole hand since the fault began. */
const whole =
	(count: number): Evidence =>
	({work, spans, sound, fault}) =>
		wholeMovements(work, spans, sound, fault.from)[count - 1] ?? null;

/** The end of the `count`th way of a finger since `from`. */
const way = ({work}: Scene, finger: string, count: number, from: number): number | null =>
	work.ways[finger]?.filter(({start}) => start >= from)[count - 1]?.end ?? null;

/** The fault's own channel follows its finger: there and back twice, whenever that was. Sticks follow theirs as well. */
const follows: Evidence = scene => (isStick(scene) ? scene.fault.from : way(scene, scene.fault.channel ?? '', 4, 0));

/** So long after the fault began. */
const after =
	(seconds: number): Evidence =>
	({fault}) =>
		fault.from + seconds;

/** A stick axis is stuck after three seconds at a rail, a finger while the hand works. */
const stuckAtEnd: Evidence = scene => (isStick(scene) ? after(3)(scene) : whole(4)(scene));

/** The first two seconds of rest in one that the fault has a share in are over: less tells no noise of a kind from its like. */
const rested: Evidence = ({work, fault}) => {
	const rest = work.rests.find(({start, end}) => end - Math.max(start, fault.from) >= 2);
	return rest ? Math.max(rest.start, fault.from) + 2 : null;
};

/** The first finger has gone there and back twice. */
const firstProof: Evidence = scene => {
	const times = scene.sound.flatMap(finger => way(scene, finger, 4, 0) ?? []);
	return times.length === 0 ? null : Math.min(...times);
};

/** The cause acted `count` times within so many seconds. */
const acted =
	(count: number, within = never): Evidence =>
	({fault}) => {
		const {signs} = fault;
		const last = signs.findIndex((t, i) => i >= count - 1 && t - signs[i - count + 1] <= within);
		return last < 0 ? null : signs[last];
	};

/** Kinks a minute of the finger's ways so far come to what the definition asks: 60, once there have been six seconds of them. */
const crackles: Evidence = ({fault, work}) => {
	let moved = 0;
	for (const {start, end} of work.ways[fault.channel ?? ''] ?? []) {
		if (start < fault.from) continue;
		moved += end - start;
		const kinks = fault.signs.filter(t => t <= end).length;
		if (moved >= 6 && kinks >= moved) return end;
	}
	return null;
};

/** Pushes that got as far as the stick goes on the channel's axis, since the fault began. */
function pushesTo({work, fault}: Scene, side: 0 | 1): readonly Stretch[] {
	const at = (fault.channel === 'stick-y' ? 2 : 0) + side;
	return work.pushes.filter(({start, reach}) => start >= fault.from && reach[at] >= 0.9);
}

/** Three pushes to each side: whichever falls short, it has been seen. */
const pushedThrice: Evidence = scene => latest(pushesTo(scene, 0)[2]?.end ?? null, pushesTo(scene, 1)[2]?.end ?? null);

/** Half a per cent of all frames, or two in some 20 s; from the third lost one on, that no single one tells. */
const lostShare: Evidence = ({fault: {signs}, frames, seconds}) => {
	const perSecond = frames / seconds;
	const within20 = Math.ceil(0.02 * 20 * perSecond);
	const worst = signs.findIndex((t, i) => i + 1 >= within20 && t - signs[i + 1 - within20] <= 20);
	if (worst >= 0) return signs[worst];
	if (signs.length < 0.005 * frames) return null;
	return signs.find((t, i) => i >= 2 && i + 1 >= 0.005 * t * perSecond) ?? null;
};

/** By code, what docs/faults.md counts; where it counts nothing, delays are counted from the beginning. */
const evidence: Readonly<Record<string, Evidence>> = {
	'stuck-low': stuckAtEnd,
	'stuck-high': stuckAtEnd,
	'stuck-mid': whole(4),
	'floating-input': scene => {
		const ghost = scene.fault.variant === 'ghost' ? way(scene, scene.before, 6, scene.fault.from) : 0;
		return latest(firstProof(scene), after(5)(scene), ghost);
	},
	dropout: acted(3, 60),
	'rough-track': crackles,
	'excess-noise': scene => latest(follows(scene), rested(scene)),
	// A line stays through rest and motion.
	'mains-hum': scene => latest(follows(scene), after(2)(scene), rested(scene)),
	'clipped-range': scene => (isStick(scene) ? scene.fault.from : whole(4)(scene)),
	'narrow-span': whole(6),
	'baseline-drift': whole(12),
	backlash: whole(4),
	'reversed-sensor': whole(4),
	'shared-ceiling': whole(4),
	// Nothing is pushed before its neighbour goes there and back; steps need a way to be told from a level.
	crosstalk: scene => way(scene, scene.before, 2, scene.fault.from),
	'coarse-steps': scene =>
		isStick(scene) ? scene.fault.from : way(scene, scene.fault.channel ?? '', 1, scene.fault.from),
	'duplicate-channel': scene => way(scene, scene.fault.channel ?? '', 4, scene.fault.from),
	'supply-ripple': after(2),
	'stick-no-return': ({work, fault}) => work.pushes.filter(({start}) => start >= fault.from)[2]?.end ?? null,
	'stick-short-throw': pushedThrice,
	'button-bounce': acted(1),
	'button-floating': after(5),
	'button-held': after(15),
	'slow-frames': after(10),
	'line-saturated': after(5),
	'lost-frames': lostShare,
	silent: after(3),
};

/** As the numbers show them: a spool that is too small for its cord takes its finger to the rail, as does an open leg. */
function spansOf({code, channel, variant}: FaultTruth, {ranges, outputFullScale}: Truth): Spans {
	const reachesRail =
		(code === 'clipped-range' && variant === 'small-spool') || code === 'stuck-high' || code === 'stuck-low';
	return Object.fromEntries(
		ranges.map(({name, low, high}) => [
			name,
			reachesRail && name === channel ? Math.max(high, outputFullScale - low) : high - low,
		]),
	);
}

/** When the fault could be known; null where the session never shows it, undefined where nothing is counted. */
export function evidenceOf(fault: FaultTruth, truth: Truth, spec: SimulationSpec): number | null | undefined {
	const {faults, scanOrder, frames} = truth;
	const seen = evidence[fault.code];
	if (seen === undefined) return undefined;
	const hit = new Set(faults.flatMap(({channel, alternatives}) => [channel, ...alternatives]));
	const sound = scanOrder.filter(name => !name.startsWith('stick') && !hit.has(name));
	const before = scanOrder[scanOrder.indexOf(fault.channel ?? '') - 1] ?? '';
	const at = seen({
		fault,
		work: workOf(spec),
		spans: spansOf(fault, truth),
		sound,
		before,
		seconds: spec.durationSeconds,
		frames,
	});
	return at === null || at > (fault.to ?? spec.durationSeconds) ? null : at;
}
