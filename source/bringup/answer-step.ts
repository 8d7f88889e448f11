import type {HandWatch} from './hand-watch.ts';
import type {KnownSoFar} from './known-so-far.ts';
import type {Phase} from './phase.ts';
import type {Sighting} from './sensing.ts';
import type {StepWork} from './step-work.ts';

/** A finger bent alone goes at least this far of its own range: a neighbour that follows does not. */
export const aloneShare = 0.5;

/** A push to a side goes this far, share of full scale, and leaves the other axis under this share of it. */
export const pushShare = 0.25;
const sidewaysShare = 0.7;

/** What stands around a step when something is seen. */
type Surroundings = {
	readonly known: KnownSoFar;
	/** All pulls of the reels, or of the fingers by themselves; undefined in other steps. */
	readonly phase: Phase | undefined;
	readonly hand: HandWatch;
	readonly isPrompted: boolean;
	/** Somebody reads what is said and can answer: only what was asked for counts. */
	readonly isAttended: boolean;
	/** In the unit of the readings. */
	readonly fullScale: number;
};

/** Lets a sighting answer the step, and puts into `work` what it comes to. Gives what to say where it does not fit. */
export function answerStep(work: StepWork, sighting: Sighting, t: number, around: Surroundings): string | undefined {
	switch (sighting.kind) {
		case 'together':
			return answerTogether(work, sighting, t, around);
		case 'alone':
			return answerAlone(work, sighting, t, around);
		case 'push':
			return answerPush(work, sighting, t, around);
		case 'press':
			return answerPress(work, sighting, t, around);
	}
}

type Moved = Exclude<Sighting, {kind: 'push' | 'press'}>;
type Seen<Kind extends 'push' | 'press'> = Extract<Sighting, {kind: Kind}>;

function answerTogether(
	work: StepWork,
	{pull}: Moved,
	t: number,
	{hand, isPrompted}: Surroundings,
): string | undefined {
	if (pull.from < work.startedAt || !hand.add(pull)) return undefined;
	const {kind} = work.step;
	if (kind === 'hand') work.countOne(t);
	const isOneAsked = kind === 'reel' || kind === 'finger';
	return isPrompted && isOneAsked ? 'Several channels moved at once: only this one, please.' : undefined;
}

function answerAlone(work: StepWork, {pull, strength}: Moved, t: number, around: Surroundings): string | undefined {
	const {known, phase, isPrompted, isAttended} = around;
	const {step} = work;
	if (phase === undefined || (step.kind !== 'reel' && step.kind !== 'finger')) return undefined;
	if (step.kind === 'finger' && strength < aloneShare) return undefined;
	if (isPrompted && pull.from < work.startedAt) return undefined;
	phase.add(pull);
	if (!phase.isFinger(pull.column) || !known.mayAnswer(pull.column)) return undefined;
	const own = known.expectedOn(step.kind, step.channel);
	if (isAttended && !work.isAskedOf(pull.column, own)) {
		// An open pin moves by itself.
		if (known.isOpen(pull.column)) return undefined;
		const isTaken = known.hasAnswered(step.kind, pull.column);
		work.takeWrong(pull.column, !isTaken, pull);
		return wrongText(known.nameOf(pull.column), step.channel, isTaken, 'moved', 'pull');
	}

	if (!isAttended && known.hasAnswered(step.kind, pull.column) && pull.column !== known.columnOf(step.channel))
		return 'That channel has answered already: only this one, please.';
	work.takePull(t, pull);
	return undefined;
}

function answerPush(
	work: StepWork,
	{pull, sideways}: Seen<'push'>,
	t: number,
	{fullScale, known}: Surroundings,
): string | undefined {
	const way = Math.abs(pull.excursion);
	if (work.step.kind !== 'stick-side' || !work.isFromHome(pull)) return undefined;
	if (way < pushShare * fullScale || sideways > way) return undefined;
	if (sideways > sidewaysShare * way) return 'That was between two sides: push straight, please.';
	if (known.isPushedAlready(pull.column, pull.excursion))
		return 'That side has answered already: only the one asked for, please.';
	work.takePull(t, pull);
	return undefined;
}

function answerPress(
	work: StepWork,
	{column}: Seen<'press'>,
	t: number,
	{known, isAttended}: Surroundings,
): string | undefined {
	const {step} = work;
	if (step.kind !== 'button') return undefined;
	if (isAttended && !work.isAskedOf(column, known.columnOf(step.channel))) {
		const isTaken = known.isPressedAlready(column);
		work.takeWrong(column, !isTaken);
		return wrongText(known.nameOf(column), step.channel, isTaken, 'was pressed', 'press');
	}

	if (known.isPressedAlready(column) && column !== known.columnOf(step.channel))
		return 'That button has answered already: only this one, please.';
	work.takePress(t, column);
	return undefined;
}

/** Another channel than was asked for: what that may mean, and what to do about either. */
function wrongText(moved: string, asked: string, isTaken: boolean, did: string, what: string): string {
	const [one, other] = [moved.toUpperCase(), asked.toUpperCase()];
	return isTaken
		? `${one} ${did}, ${other} was asked. ${one} has answered already: ${what} ${other}.`
		: `${one} ${did}, ${other} was asked. Wrong ${what === 'pull' ? 'cord' : 'button'}? ${what} ${other}. Right ${what === 'pull' ? 'cord' : 'button'}? then the wires are crossed: enter.`;
}
