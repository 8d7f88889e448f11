import {CannotError} from '../cannot-error.ts';
import {fixedText} from '../text/number-text.ts';
import {cleanPoses, type Repairs, readInForm, secondsOf} from './clean-poses.ts';
import {findForm, type KnownForm} from './find-form.ts';
import {findSteps} from './find-steps.ts';
import {findUnit} from './find-unit.ts';
import type {Handedness} from './gesture-words.ts';
import type {Enough, Found, MountResult, MountStep, ReadAs} from './mount-result.ts';
import type {Order} from './pose-columns.ts';
import type {Direction, Hand, LengthUnit, UpAxis} from './pose-form.ts';
import type {Poses} from './poses.ts';
import type {RawPoses, ReadPoses} from './raw-poses.ts';
import type {Vector} from './rotation.ts';
import {solveGestures} from './solve-gestures.ts';
import {solveTwoStreams} from './solve-two-streams.ts';
import {binsOf} from './stillness.ts';

/** What a person has said about a log and the hand; the rest is found. */
export type MountChoices = {
	readonly hand: Hand;
	readonly handedness: Handedness;
	readonly order: Order | undefined;
	readonly direction: Direction | undefined;
	readonly unit: LengthUnit | undefined;
	readonly up: UpAxis | undefined;
	readonly steps: readonly MountStep[] | undefined;
	readonly spaces: 'one' | 'two' | undefined;
	readonly originFromPivot: Vector;
	readonly enough: Enough;
	/** See `SolveOptions`. */
	readonly isAnywhere?: boolean;
	/** Rows a second of a log without times. */
	readonly rate: number;
};

/** The rows of one thing, and how the log that holds them was read. */
export type MountInput = {readonly source: string; readonly read: ReadPoses; readonly raw: RawPoses};

export type Mount = {readonly result: MountResult; readonly readAs: ReadAs; readonly poses: Poses};

/** Of two readings the better one must be so much better, or the option is asked for. */
const surely = 2;

/**
 * The offset from a log, and what it was read as. Throws `CannotError` for a log in which the form of the quaternion cannot
 * be told, and for one whose times do not rise.
 */
export function solveMount(input: MountInput, second: MountInput | undefined, choices: MountChoices): Mount {
	const {raw, read, source} = input;
	const seconds = secondsOf(raw, read.isClock, choices.rate);
	const unit = unitOf(input, choices);
	const known: KnownForm = {
		order: choices.order ?? read.columns.order,
		orderBy: choices.order === undefined ? 'name' : 'option',
		direction: choices.direction,
	};
	const given = choices.steps?.find(({name}) => name === 'pivot');
	const cleaned = cleanPoses(raw, seconds, unit.is, source);
	const bins = binsOf(cleaned.poses);
	const form = findForm(cleaned.poses, bins, known, given);
	if (second === undefined) {
		askWhereUnclear('--quaternion', form.order, source);
		askWhereUnclear('--direction', form.direction, source);
	}
	const poses = readInForm(cleaned.poses, {order: form.order.is, direction: form.direction.is});
	if (poses.count < 2) throw new CannotError(`${source} holds too few poses to tell anything: ${poses.count}.`);
	const readAs = (upAxis: Found<UpAxis> | null, notes: readonly string[], more: Partial<ReadAs> = {}): ReadAs => ({
		unit,
		order: form.order,
		direction: form.direction,
		upAxis,
		rows: raw.t.length,
		seconds: poses.t[poses.count - 1] - poses.t[0],
		device: raw.name,
		second: null,
		lagSeconds: null,
		notes: [...timeNotes(input, choices), ...repairNotes(cleaned.repairs, read), ...notes],
		...more,
	});
	if (second) {
		const other = secondPoses(input, second, unit.is, form.order.is, form.direction.is, choices);
		const {result, lag} = solveTwoStreams(poses, other, choices);
		return {result, poses, readAs: readAs(null, [], {second: second.raw.name ?? second.source, lagSeconds: lag})};
	}

	const found =
		choices.steps === undefined
			? findSteps(poses, bins, form.pivot, choices.hand, choices.handedness, choices.up)
			: {steps: choices.steps.filter(step => step.from < poses.t[poses.count - 1]), notes: [], unclear: null};
	const solved = solveGestures(poses, found.steps, choices);
	const fit = solved.gestureFit;
	const result =
		found.unclear === null
			? solved
			: {
					...solved,
					missing: [{what: 'rotation', move: found.unclear}, ...solved.missing.filter(({what}) => what !== 'rotation')],
				};
	const upAxis: Found<UpAxis> | null =
		fit === null
			? choices.up === undefined
				? null
				: {is: choices.up, by: 'option', next: null, times: null}
			: {
					is: fit.up,
					by: choices.up === undefined ? 'data' : 'option',
					next: fit.runnerUp?.up ?? null,
					times: fit.runnerUp?.times ?? null,
				};
	return {result, poses, readAs: readAs(upAxis, found.notes)};
}

function unitOf({read, raw}: MountInput, {unit}: MountChoices): Found<LengthUnit> {
	if (unit !== undefined) return {is: unit, by: 'option', next: null, times: null};
	if (read.columns.unit !== undefined) return {is: read.columns.unit, by: 'name', next: null, times: null};
	return findUnit(raw);
}

function askWhereUnclear(option: string, {is, by, next, times}: Found<string>, source: string): void {
	if (by !== 'data' || next === null || times === null || times >= surely) return;
	throw new CannotError(
		`${source} does not tell ${option === '--quaternion' ? "the order of the quaternion's numbers" : 'what the quaternion turns into what'}: ${is} fits only ${fixedText(times, 1)} times better than ${next} on the pivot. Say which with ${option} ${is} or ${option} ${next}.`,
	);
}

/** Both on one clock: the second log's first row need not be the first log's. */
function secondPoses(
	first: MountInput,
	second: MountInput,
	unit: LengthUnit,
	order: Order,
	direction: Direction,
	choices: MountChoices,
): Poses {
	const seconds = secondsOf(second.raw, second.read.isClock, choices.rate);
	const own = secondsOf(first.raw, first.read.isClock, choices.rate);
	const tick = (last: number, ticks: readonly number[]) => last / (ticks[ticks.length - 1] - ticks[0] || 1);
	// Both columns are of one clock where they overlap; else each log begins at 0.
	const scale = tick(own[own.length - 1], first.raw.t);
	const shift = (second.raw.t[0] - first.raw.t[0]) * scale;
	const isOneClock = Number.isFinite(shift) && Math.abs(shift) < own[own.length - 1];
	const moved = isOneClock ? seconds.map(time => time + shift) : seconds;
	const form = {order: second.read.columns.order ?? order, direction};
	const secondUnit =
		choices.unit ?? second.read.columns.unit ?? (second.source === first.source ? unit : findUnit(second.raw).is);
	return readInForm(cleanPoses(second.raw, moved, secondUnit, second.source).poses, form);
}

function timeNotes({raw, read}: MountInput, {rate}: MountChoices): string[] {
	if (raw.t.some(Number.isFinite)) return [];
	return [
		`No column of times${read.columns.time === undefined ? '' : ' that can be read'}: ${rate} rows a second were assumed (--rate).`,
	];
}

function repairNotes(repairs: Repairs, read: ReadPoses): string[] {
	const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`;
	return [
		...(read.odd > 0 ? [`${count(read.odd, 'line is no row', 'lines are no rows')} of the table and left out.`] : []),
		...(repairs.zero > 0
			? [
					`${count(repairs.zero, 'row has a quaternion', 'rows have quaternions')} of length 0: the tracker was not seen. Left out.`,
				]
			: []),
		...(repairs.notUnit > 0
			? [`${count(repairs.notUnit, 'quaternion is', 'quaternions are')} not of length 1, and brought to it.`]
			: []),
		...(repairs.frozen > 0
			? [
					`${count(repairs.frozen, 'row repeats', 'rows repeat')} the one before to the last digit for half a second or more: a tracker that was lost. Left out.`,
				]
			: []),
		...(repairs.jumps > 0
			? [
					`The tracking jumped ${count(repairs.jumps, 'time', 'times')} by more than 0.2 m or 60° within a row: cut there.`,
				]
			: []),
		...(repairs.repeated > 0
			? [`${count(repairs.repeated, 'row has', 'rows have')} the time of the row before. Left out.`]
			: []),
		...(repairs.falling > 0
			? [`${count(repairs.falling, 'time', 'times')} came before the one above or could not be read: cut there.`]
			: []),
	];
}
