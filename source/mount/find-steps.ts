import {CannotError} from '../cannot-error.ts';
import {closestNames} from '../text/closest-names.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';
import {secondsText} from '../text/number-text.ts';
import {parseTime} from '../text/parse-time.ts';
import type {FoundPivot} from './find-pivot.ts';
import {type GestureName, gestureNames, gestureOrder, type Handedness} from './gesture-words.ts';
import {fitGestures} from './gestures.ts';
import type {MountStep, StepName} from './mount-result.ts';
import type {Hand, UpAxis} from './pose-form.ts';
import {indexAt, type Poses, type Span, turnAt} from './poses.ts';
import {angleBetween, degree, type Quaternion, quaternionOf} from './rotation.ts';
import {type Bin, heldPoses} from './stillness.ts';

const stepNames = [...gestureNames, 'pivot'] as const;

/** Reads `palm-down 0:01-0:04, pivot 20s-40s`. Throws `CannotError`. */
export function parseSteps(text: string): MountStep[] {
	return text
		.split(',')
		.map(part => part.trim())
		.filter(part => part !== '')
		.map(part => {
			const [, name, from, to] = /^([a-z-]+)[ =@]+([^\s-]+)\s*(?:-|to|\.\.)\s*([^\s-]+)$/i.exec(part) ?? [];
			const wrong = (why: string) =>
				new CannotError(
					`--steps must not be "${escapeText(part, 60)}": ${why}. It takes names and times such as palm-down 2s-5s, pivot 30s-50s.`,
				);
			if (name === undefined) throw wrong('a step is a name and a stretch of time');
			const word = stepNames.find(each => each === name.toLowerCase());
			if (word === undefined) {
				const near = closestNames(name.toLowerCase(), stepNames)[0];
				throw wrong(`a step is one of ${stepNames.join(', ')}${near ? `, perhaps ${near}` : ''}`);
			}
			const [start, end] = [parseTime(from), parseTime(to)];
			if (start === undefined || end === undefined || !(end > start))
				throw wrong('its end must be a time after its start');
			return {name: word as StepName, from: start, to: end};
		});
}

type FoundSteps = {
	readonly steps: readonly MountStep[];
	readonly notes: readonly string[];
	readonly unclear: string | null;
};

/** Poses that fit this well could be those asked for, rad rms: half of what a person keeps to. */
const wellFitting = 20 * degree;

/** Two rotations of the hand farther apart than this are two different answers. */
const otherAnswer = 30 * degree;

/** Poses held that are looked at; more of them are no routine. */
const mostHeld = 9;

/**
 * The steps in a log: poses held in the order in which they are asked for, then the pivot. Three or six poses before the
 * pivot are taken in that order; of any other number the assignment that fits, if there is only one.
 */
export function findSteps(
	poses: Poses,
	bins: readonly Bin[],
	pivot: FoundPivot | undefined,
	hand: Hand,
	handedness: Handedness,
	up: UpAxis | undefined,
): FoundSteps {
	const held = heldPoses(bins)
		.map(({from, to}) => ({from, to, turn: turnAt(poses, indexAt(poses, (from + to) / 2))}))
		.filter(each => pivot === undefined || each.to <= pivot.from || each.from >= pivot.to);
	const before = pivot === undefined ? held : held.filter(each => each.to <= pivot.from);
	const own = before.length >= 2 ? before : held;
	const turning: MountStep[] = pivot === undefined ? [] : [{name: 'pivot', from: pivot.from, to: pivot.to}];
	const named = (list: readonly Held[], names: readonly GestureName[]): MountStep[] => [
		...list.map(({from, to}, index) => ({name: names[index], from, to})),
		...turning,
	];
	const whole = own.length === 3 || own.length === 6;
	if (whole) return {steps: named(own, gestureOrder), notes: [], unclear: null};
	if (own.length < 2) return {steps: turning, notes: [], unclear: null};
	const times = listText(own.slice(0, mostHeld).map(({from, to}) => `${secondsText(from)}–${secondsText(to)}`));
	const unclear = `say which pose is which with --steps: ${own.length} poses were held (${times}), three or six are asked for`;
	if (own.length > mostHeld) return {steps: turning, notes: [], unclear};
	const answers = assignments(own, hand, handedness, up);
	const [best] = answers;
	if (best === undefined || answers.some(({turn}) => angleBetween(turn, best.turn) > otherAnswer))
		return {steps: turning, notes: [], unclear};
	return {
		steps: named(best.held, best.names),
		notes: [`Of ${own.length} poses held ${best.held.length} fit the order asked for; the others are left out.`],
		unclear: null,
	};
}

type Held = Span & {readonly turn: Quaternion};
type Answer = {
	readonly held: readonly Held[];
	readonly names: readonly GestureName[];
	readonly turn: Quaternion;
	readonly rms: number;
};

/** Ways to name most of the poses in the order asked for that fit well, the best first. */
function assignments(own: readonly Held[], hand: Hand, handedness: Handedness, up: UpAxis | undefined): Answer[] {
	for (let size = Math.min(own.length, gestureOrder.length); size >= 2; size--) {
		const answers: Answer[] = [];
		for (const held of subsets(own, size)) {
			for (const names of subsets(gestureOrder, size)) {
				const fit = fitGestures(
					held.map(({turn}, index) => ({name: names[index], turn})),
					hand,
					handedness,
					up,
				);
				if (fit === undefined || fit.wahba.isMirror) continue;
				const rms = fit.wahba.rootSum / Math.sqrt(size);
				if (rms < wellFitting) answers.push({held, names, turn: quaternionOf(fit.wahba.rotation), rms});
			}
		}
		if (answers.length > 0) return answers.sort((a, b) => a.rms - b.rms);
	}
	return [];
}

function* subsets<T>(list: readonly T[], size: number, from = 0): Generator<T[]> {
	if (size === 0) {
		yield [];
		return;
	}
	for (let index = from; index + size <= list.length; index++) {
		for (const rest of subsets(list, size - 1, index + 1)) yield [list[index], ...rest];
	}
}
