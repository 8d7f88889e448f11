import Quaternion from 'quaternion';
import {describe, expect, it} from 'vitest';
import type {Poses} from '../../source/mount/poses.ts';
import {halfWidths} from '../../source/mount/region.ts';
import {
	angleBetween,
	expOf,
	inverse,
	plus,
	type Quaternion as Turn,
	times,
	turned,
	type Vector,
} from '../../source/mount/rotation.ts';
import {solveTwoStreams} from '../../source/mount/solve-two-streams.ts';
import {solveHandEye} from '../../source/mount/two-spaces.ts';
import {lagBetween} from '../../source/mount/two-streams.ts';
import {seededRandom} from './seeded-random.ts';

type Pose = {turn: Turn; place: Vector};
const motionOf = (first: Pose, second: Pose): Pose => ({
	turn: times(inverse(first.turn), second.turn),
	place: turned(inverse(first.turn), plus(second.place, first.place, -1)),
});

describe('A X = X B', () => {
	it('has the answer of the example of Shiu and Ahmad (1989) that Park and Martin use', () => {
		// check-values O3: A from memory of the papers, B recomputed with SciPy 1.17.1.
		const motions = [
			{
				a: {turn: expOf([0, 0, 3]), place: [0, 0, 0] as Vector},
				b: {turn: expOf([0, 0.596007992, 2.94019973]), place: [-26.9559, -96.1332, 19.4872] as Vector},
			},
			{
				a: {turn: expOf([0, 1.5, 0]), place: [-400, 0, 400] as Vector},
				b: {turn: expOf([0, 1.47009987, -0.298004]), place: [-309.543, 59.0244, 291.177] as Vector},
			},
		];
		const {turn, place} = solveHandEye(motions)!;
		expect(angleBetween(turn, expOf([0.2, 0, 0]))).toBeLessThan(1e-7);
		for (const [k, value] of [10, 50, 100].entries()) expect(place[k]).toBeCloseTo(value, 2);
	});

	// check-values O4: OpenCV 4.14.0 calibrateHandEye, method PARK, on these poses: gripper to base A, target to camera B⁻¹.
	const A = [
		[0.9302378, -0.070253, 0.2351105, 0.2728463, 63.4472, 82.8268, -97.91],
		[0.9398606, -0.1254178, -0.2131843, -0.2355522, -168.3138, 119.8313, 3.688],
		[0.7500705, 0.3911573, -0.4669762, -0.2575334, -144.7412, 23.3103, -342.9753],
		[0.9782827, 0.0866868, -0.1435748, -0.1217972, -529.2616, 95.2005, 300.6135],
		[0.9227669, -0.3398287, -0.1398361, 0.1160324, 198.1857, 33.8286, 211.0558],
		[0.8976692, 0.3503908, 0.1852453, 0.1926151, 38.1277, -493.001, 136.0057],
		[0.9620114, 0.0588872, 0.0479269, -0.2622392, -392.7645, 11.4333, -58.676],
		[0.7622228, -0.3493021, -0.4762583, -0.2649197, -30.6491, 182.2578, -83.9932],
		[0.8674673, -0.236685, -0.4338833, 0.0567976, 177.6941, 493.9128, -133.653],
		[0.9318029, 0.3298532, -0.1205956, 0.091635, -53.0853, -143.308, -33.5767],
		[0.9511791, -0.0180387, -0.307845, -0.012826, 172.1261, -386.3478, 173.4072],
		[0.938104, 0.3193247, -0.1315134, 0.0263961, -45.5698, 91.0859, 113.4206],
	];
	const B = [
		[0.373001, -0.2312667, -0.7201773, 0.5373366, 981.4465, 309.9882, 124.9168],
		[0.1047096, -0.3339804, -0.9360024, -0.0373153, 968.2339, 467.3715, -188.3634],
		[-0.4609337, -0.1386201, -0.8765274, 0.004938, 1381.2909, 266.5794, -161.2167],
		[0.0016417, -0.2227185, -0.958586, 0.1775012, 816.2721, 576.7904, -609.6308],
		[0.2940545, -0.5694348, -0.7412781, 0.1994563, 658.1446, 313.9685, 59.9603],
		[0.0367631, 0.0359369, -0.7924357, 0.6077851, 796.4457, -258.0853, -234.2844],
		[0.1671895, -0.0559492, -0.9793164, 0.0992812, 1101.457, 379.3839, -384.5662],
		[0.0547596, -0.592516, -0.7546947, -0.2763369, 1055.2859, 528.1895, -8.334],
		[0.0132073, -0.6444557, -0.7606412, 0.0769899, 1010.6211, 695.3575, 281.4489],
		[-0.1468349, -0.1389496, -0.8765583, 0.4367815, 983.7038, 81.1805, -186.7473],
		[-0.0344893, -0.4343155, -0.8844897, 0.166909, 708.1411, -115.3304, -190.5028],
		[-0.1448263, -0.1328823, -0.9089621, 0.367635, 839.7492, 313.8217, -136.9362],
	];

	it('has the answer that OpenCV gives on all pairs of twelve noisy poses, each motion from the later to the earlier one as there', () => {
		const pose = ([w, x, y, z, ...place]: number[]): Pose => ({turn: [w, x, y, z], place: place as unknown as Vector});
		const motions = A.flatMap((_, i) =>
			A.slice(i + 1).map((__, k) => ({
				a: motionOf(pose(A[i + 1 + k]), pose(A[i])),
				b: motionOf(pose(B[i + 1 + k]), pose(B[i])),
			})),
		);
		const {turn, place} = solveHandEye(motions)!;
		expect((angleBetween(turn, [0.74593151, 0.2312838, -0.36971207, 0.50339544]) * 180) / Math.PI).toBeLessThan(1e-4);
		for (const [k, value] of [35.31941, -12.3653, 109.64059].entries()) expect(place[k]).toBeCloseTo(value, 3);
	});

	it('has none where all motions turn about one axis', () => {
		const motion = (angle: number) => ({
			a: {turn: expOf([0, 0, angle]), place: [0, 0, 0] as Vector},
			b: {turn: expOf([0, 0, angle]), place: [1, 0, 0] as Vector},
		});
		expect(solveHandEye([motion(0.5), motion(1), motion(-0.7)])).toBeUndefined();
	});
});

const offset = {turn: expOf([0.5, -0.8, 1.1]), place: [20, -15, 60] as Vector};

/** Two things on one hand for 20 s; the second in a space of its own where asked, and later by a lag. */
function streams(lag: number, hasOwnSpace: boolean) {
	const {normal} = seededRandom(3);
	const space = hasOwnSpace ? new Quaternion(0.3, -0.5, 0.7, 0.4).normalize() : new Quaternion(1);
	const shift = hasOwnSpace ? [400, -900, 250] : [0, 0, 0];
	const at = (t: number) => {
		const v = [0.9 * Math.sin(1.9 * t), 0.8 * Math.sin(2.7 * t + 1), 0.7 * Math.sin(1.3 * t + 2)];
		const angle = Math.hypot(...v);
		return {
			turn: Quaternion.fromAxisAngle(v as [number, number, number], angle),
			place: [100 * Math.sin(1.1 * t), 900 + 80 * Math.sin(1.7 * t), 120 * Math.sin(0.9 * t)],
		};
	};
	const make = (rate: number, of: (t: number) => {turn: Quaternion; place: number[]}): Poses => {
		const count = 20 * rate;
		const t = Float64Array.from({length: count}, (_, index) => index / rate);
		const turns: number[] = [];
		const places: number[] = [];
		for (const time of t) {
			const {turn, place} = of(time);
			const shaken = turn.mul(new Quaternion(1, 0.0017 * normal(), 0.0017 * normal(), 0.0017 * normal()).normalize());
			turns.push(shaken.w, shaken.x, shaken.y, shaken.z);
			places.push(...place.map(value => value + 0.5 * normal()));
		}
		return {count, t, turns: Float64Array.from(turns), places: Float64Array.from(places), parts: new Int32Array(count)};
	};
	const x = new Quaternion(...offset.turn);
	const second = (t: number) => {
		const {turn, place} = at(t - lag);
		const inHand = turn.rotateVector([...offset.place]) as number[];
		const own = place.map((value, k) => value + inHand[k]) as [number, number, number];
		return {
			turn: space.mul(turn).mul(x),
			place: (space.rotateVector(own) as number[]).map((value, k) => value + shift[k]),
		};
	};
	return {a: make(90, at), b: make(72, second)};
}

const choices = {hand: 'right', handedness: 'right-handed', enough: {mm: 3, degrees: 2}, spaces: undefined} as const;

describe('a second thing in the hand', () => {
	it('shows its lag to a few milliseconds', () => {
		const {a, b} = streams(0.043, false);
		expect(lagBetween(a, b)).toBeCloseTo(0.043, 2);
	});

	it('gives the offset, and its region holds the true one', () => {
		const {a, b} = streams(0.043, false);
		const {result} = solveTwoStreams(a, b, choices);
		expect(result.road).toBe('second');
		expect(result.verdict).toBe('pass');
		expect(angleBetween(result.turn!, offset.turn)).toBeLessThan(0.01);
		const wide = halfWidths(result.placeRegion!);
		for (const k of [0, 1, 2]) expect(Math.abs(result.place![k] - offset.place[k])).toBeLessThan(Math.max(wide[k], 1));
	});

	it('in a space of its own is noticed, and gives the same offset from motions', () => {
		const {a, b} = streams(0.02, true);
		const {result} = solveTwoStreams(a, b, choices);
		expect(result.road).toBe('two-spaces');
		expect(result.verdict).toBe('pass');
		expect(angleBetween(result.turn!, offset.turn)).toBeLessThan(0.02);
		for (const k of [0, 1, 2]) expect(Math.abs(result.place![k] - offset.place[k])).toBeLessThan(3);
	});
});
