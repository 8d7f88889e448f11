import {cleanPoses, secondsOf} from './clean-poses.ts';
import {findForm} from './find-form.ts';
import {findUnit} from './find-unit.ts';
import {type GestureName, gestureOrder} from './gesture-words.ts';
import type {MountStep, StepName} from './mount-result.ts';
import {indexAt, type Poses, turnAt} from './poses.ts';
import {chooseDevice, PoseReader, type RawPoses} from './raw-poses.ts';
import {angleBetween, degree} from './rotation.ts';
import {gestureMoves} from './solve-gestures.ts';
import {type Mount, type MountChoices, solveMount} from './solve-mount.ts';
import {type Bin, binsOf, heldPoses, isStill, stillSeconds} from './stillness.ts';

/** What is asked for, in order. */
const asked: readonly StepName[] = [...gestureOrder, 'pivot'];

/** Two poses in a row are 90° apart; the same one again after a fidget is not. */
const leastApart = 40 * degree;

/** The second round is asked for with the hand turned about a quarter: less than this is none. */
const leastQuarter = 25 * degree;

/** Turning on the pivot is told from going there once there is so much of it, seconds. */
const pivotSeconds = 6;

const pivotMove = 'set the fingertip on the dimple and turn the hand all ways about it';

/** What the live page shows. */
export type LiveMountView = {
	/** Steps done, and all there are. */
	readonly done: number;
	readonly steps: number;
	/** What is asked for, in a word for large letters and in a sentence. */
	readonly word: string;
	readonly prompt: string;
	/** What it was answered with that does not fit; null without. */
	readonly hint: string | null;
	/** How long the hand has been held still, and what it still does: degrees and mm a second. */
	readonly still: {
		readonly seconds: number;
		readonly need: number;
		readonly degrees: number;
		readonly mm: number;
	} | null;
	readonly rows: number;
	readonly perSecond: number | null;
	readonly device: string | null;
	/** The offset as far as it is known. */
	readonly mount: Mount | null;
	readonly isDone: boolean;
	/** Why nothing can be read; null while all is well. */
	readonly trouble: string | null;
};

const words: Readonly<Record<StepName, string>> = {
	'palm-down': 'palm',
	'thumb-up': 'thumb-up',
	'fingers-down': 'fingers',
	pivot: 'pivot',
	together: 'both',
};

/**
 * Leads through the routine on poses as they come: takes a step as done when it has seen it, and solves what can be solved.
 * Knows no clock: times come with the poses.
 */
export class LiveMount {
	readonly #reader = new PoseReader();
	readonly #choices: MountChoices;
	readonly #device: string | undefined;
	readonly #source: string;
	/** Steps that are done; null for one that was skipped. */
	#taken: (MountStep | null)[] = [];
	/** Nothing before this counts for the step that is asked for, seconds of the log. */
	#from = 0;
	#bells = 0;
	#view: LiveMountView | undefined;

	constructor(source: string, choices: MountChoices, device: string | undefined) {
		this.#source = source;
		this.#choices = choices;
		this.#device = device;
	}

	push(text: string, arrived: number): void {
		this.#reader.push(text, arrived);
	}

	/** Goes on without what is asked for. */
	skip(): void {
		if (this.#taken.length < asked.length) this.#taken.push(null);
		this.#from = this.#now();
	}

	/** The step before once more. */
	again(): void {
		this.#taken.pop();
		this.#from = this.#now();
	}

	/** Bells since it was asked last: one for a step that is done. */
	takeBells(): number {
		const bells = this.#bells;
		this.#bells = 0;
		return bells;
	}

	/** Takes in what has come since, and says what to show. */
	update(): LiveMountView {
		this.#reader.settle();
		const raw = this.#raw();
		if (raw === undefined || raw.t.length < 2) return this.#empty();
		const {read} = this.#reader;
		const seconds = secondsOf(raw, read!.isClock, this.#choices.rate);
		const unit = this.#choices.unit ?? read!.columns.unit ?? findUnit(raw).is;
		let poses: Poses;
		try {
			poses = cleanPoses(raw, seconds, unit, this.#source).poses;
		} catch (error) {
			return {...this.#empty(), trouble: (error as Error).message};
		}
		const bins = binsOf(poses);
		const hint = this.#takeSteps(poses, bins);
		const mount = this.#solve(raw, poses, bins);
		const isDone = mount !== null && mount.result.verdict === 'pass';
		if (isDone && !(this.#view?.isDone ?? false)) this.#bells = 1;
		const last = poses.t[poses.count - 1] ?? 0;
		const step = asked[Math.min(this.#taken.length, asked.length - 1)];
		const recent = poses.count - indexAt(poses, last - 1);
		this.#view = {
			done: this.#taken.length + (isDone ? 1 : 0),
			steps: asked.length,
			word: isDone ? 'done' : words[step],
			prompt: isDone ? 'All is known: q leaves the numbers on the terminal.' : promptFor(step, mount),
			hint,
			still: stillOf(bins),
			rows: raw.t.length,
			perSecond: last > 1 ? recent : null,
			device: raw.name,
			mount,
			isDone,
			trouble: mount?.result.problems[0] ?? null,
		};
		return this.#view;
	}

	/** Takes the steps that were done since; a sentence where what was done is not what is asked for. */
	#takeSteps(poses: Poses, bins: readonly Bin[]): string | null {
		for (;;) {
			const step = asked[this.#taken.length];
			if (step === undefined || step === 'pivot' || step === 'together') return null;
			const answer = this.#answer(step, poses, bins);
			if (typeof answer === 'string') return answer;
			if (answer === undefined) return null;
			this.#taken.push(answer);
			this.#from = answer.to;
			this.#bells = 1;
		}
	}

	/** A pose that was held since the step before; a sentence where it is not the one that is asked for. */
	#answer(step: GestureName, poses: Poses, bins: readonly Bin[]): MountStep | string | undefined {
		const turnOf = ({from, to}: MountStep) => turnAt(poses, indexAt(poses, (from + to) / 2));
		const before = this.#taken.findLast(each => each !== null);
		for (const {from, to} of heldPoses(bins)) {
			if (from < this.#from) continue;
			const answer: MountStep = {name: step, from, to};
			// It goes on as long as it is held: what is taken is the part of it that was seen.
			if (before && angleBetween(turnOf(before), turnOf(answer)) < leastApart) continue;
			const first = this.#taken.find(each => each?.name === step);
			if (first && angleBetween(turnOf(first), turnOf(answer)) < leastQuarter)
				return 'Turn the hand about a quarter on the table first, then the same pose.';
			return answer;
		}
		return undefined;
	}

	/** What the poses so far tell; null before there is anything to solve. */
	#solve(raw: RawPoses, neutral: Poses, bins: readonly Bin[]): Mount | null {
		const {read} = this.#reader;
		const steps = this.#taken.filter(each => each !== null);
		if (steps.length === 0 && this.#taken.length < gestureOrder.length) return null;
		let pivot: MountStep | undefined;
		let order = this.#choices.order;
		let direction = this.#choices.direction;
		if (this.#taken.length >= gestureOrder.length) {
			const own = bins.filter(bin => bin.from >= this.#from);
			const known = {
				order: order ?? read!.columns.order,
				orderBy: order === undefined ? ('name' as const) : ('option' as const),
				direction,
			};
			const form = findForm(neutral, own, known, undefined);
			if (form.pivot && form.pivot.to - form.pivot.from >= pivotSeconds)
				pivot = {name: 'pivot', from: form.pivot.from, to: form.pivot.to};
			order = form.order.is;
			direction = form.direction.is;
		}
		try {
			return solveMount({source: this.#source, read: read!, raw}, undefined, {
				...this.#choices,
				// Without a pivot nothing tells the form yet: the usual one, until it does.
				order: order ?? read!.columns.order ?? 'wxyz',
				direction: direction ?? 'tracker-to-space',
				steps: [...steps, ...(pivot ? [pivot] : [])],
			});
		} catch {
			return null;
		}
	}

	#raw(): RawPoses | undefined {
		const {read} = this.#reader;
		if (read === undefined) return undefined;
		if (this.#device === undefined && read.devices.size > 1) return undefined;
		return this.#device !== undefined && !read.devices.has(this.#device)
			? undefined
			: chooseDevice(read, this.#device, this.#source);
	}

	#now(): number {
		const raw = this.#raw();
		if (raw === undefined) return 0;
		const seconds = secondsOf(raw, this.#reader.read!.isClock, this.#choices.rate);
		return seconds[seconds.length - 1] ?? 0;
	}

	#empty(): LiveMountView {
		const names = [...(this.#reader.read?.devices.keys() ?? [])];
		return {
			done: this.#taken.length,
			steps: asked.length,
			word: 'wait',
			prompt: 'Waiting for poses.',
			hint: null,
			still: null,
			rows: 0,
			perSecond: null,
			device: null,
			mount: null,
			isDone: false,
			trouble:
				names.length > 1 && this.#device === undefined
					? `Several things are tracked (${names.join(', ')}): leave with q and name the tracker with --device.`
					: (this.#reader.problem ?? null),
		};
	}
}

/** How long the newest poses have been still, and how fast they are. */
function stillOf(bins: readonly Bin[]): LiveMountView['still'] {
	const known = bins.filter(({turning}) => turning !== undefined);
	const last = known[known.length - 1];
	if (last === undefined) return null;
	let first = known.length;
	while (first > 0 && isStill(known[first - 1])) first--;
	return {
		seconds: first === known.length ? 0 : last.to - known[first].from,
		need: stillSeconds,
		degrees: last.turning! / degree,
		mm: last.moving!,
	};
}

/** What to do next: a pivot goes on with what is still missing once it is one. */
function promptFor(step: StepName, mount: Mount | null): string {
	if (step !== 'pivot') return gestureMoves[step as GestureName];
	if (mount === null || mount.result.strayMm === null) return pivotMove;
	const {missing} = mount.result;
	return (missing.find(({what}) => what === 'position') ?? missing[0])?.move ?? pivotMove;
}
