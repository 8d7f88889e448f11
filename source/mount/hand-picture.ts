import {plus, type Quaternion, turned, type Vector} from './rotation.ts';

/** The hand is seen from behind, above and a little from the left: x goes right, y up, z (to the wrist) down to the left. */
const right: Vector = [1, 0, -0.45];
const up: Vector = [0, 1, -0.5];

/** A character is about twice as high as it is wide. */
const wide = 2;

const dotted = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/**
 * The hand's axes (x, y, z, small letters, from its origin o) and, where it is known, the tracker (T) with its own (X, Y, Z),
 * as `height` lines of `width` columns. `place` in mm and `turn` are those of the tracker in the hand's axes.
 */
export function handPicture(
	width: number,
	height: number,
	tracker: {readonly place: Vector; readonly turn: Quaternion} | null,
): string[] {
	const arm = Math.max(60, tracker === null ? 0 : Math.hypot(...tracker.place) * 0.6);
	const ends: [Vector, string][] = [
		[[arm, 0, 0], 'x'],
		[[0, arm, 0], 'y'],
		[[0, 0, arm], 'z'],
	];
	const lines: [Vector, Vector, string, string][] = ends.map(([end, letter]) => [[0, 0, 0], end, '·', letter]);
	if (tracker) {
		for (const [axis, letter] of [
			[[1, 0, 0], 'X'],
			[[0, 1, 0], 'Y'],
			[[0, 0, 1], 'Z'],
		] as [Vector, string][])
			lines.push([tracker.place, plus(tracker.place, turned(tracker.turn, axis), arm * 0.5), '+', letter]);
	}
	const flat = (v: Vector): [number, number] => [wide * dotted(v, right), -dotted(v, up)];
	const points = [...lines.flatMap(([from, to]) => [flat(from), flat(to)])];
	const [left, most] = [Math.min(...points.map(([x]) => x)), Math.max(...points.map(([x]) => x))];
	const [top, bottom] = [Math.min(...points.map(([, y]) => y)), Math.max(...points.map(([, y]) => y))];
	const scale = Math.min((width - 1) / (most - left || 1), (height - 1) / (bottom - top || 1));
	const cells = Array.from({length: height}, () => new Array<string>(width).fill(' '));
	const put = ([x, y]: [number, number], sign: string) => {
		const column = Math.round((x - left) * scale);
		const line = Math.round((y - top) * scale);
		if (cells[line]?.[column] !== undefined) cells[line][column] = sign;
	};
	for (const [from, to, sign] of lines) {
		for (let step = 0; step <= 2 * width; step++) put(flat(plus(from, plus(to, from, -1), step / (2 * width))), sign);
	}
	for (const [, to, , letter] of lines) put(flat(to), letter);
	put(flat([0, 0, 0]), 'o');
	if (tracker) put(flat(tracker.place), 'T');
	return cells.map(line => line.join('').trimEnd());
}
