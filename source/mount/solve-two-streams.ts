import {fixedText} from '../text/number-text.ts';
import type {Handedness} from './gesture-words.ts';
import type {Enough, Missing, MountResult, Road} from './mount-result.ts';
import type {Hand} from './pose-form.ts';
import type {Poses} from './poses.ts';
import {leastBlocks, leastKnown} from './region.ts';
import {degree} from './rotation.ts';
import {meanOffset, type Offset} from './second-controller.ts';
import {offsetAcrossSpaces} from './two-spaces.ts';
import {lagBetween, pairsOf} from './two-streams.ts';

type TwoStreamOptions = {
	readonly hand: Hand;
	readonly handedness: Handedness;
	readonly enough: Enough;
	/** Undefined: found out. */
	readonly spaces: 'one' | 'two' | undefined;
};

/** Two things strapped and held to one hand move against each other by less than this: else they do not share a space. */
const mostSlack = {degrees: 15, mm: 60};

/** What two spaces must explain better by, at the least, where nobody has said that there are two. */
const surelyBetter = 3;

/** The offset by a second thing in the hand , or where its space is another one. Never throws. */
export function solveTwoStreams(
	tracker: Poses,
	second: Poses,
	options: TwoStreamOptions,
): {result: MountResult; lag: number} {
	const lag = lagBetween(tracker, second);
	const pairs = pairsOf(tracker, second, lag);
	const {road, found, isLoose} = takeRoad(pairs, options.spaces);
	const [first, last] = [pairs[0], pairs.at(-1)];
	const problem =
		first === undefined
			? 'The two logs have no moment in common: record both at once, with the times of one clock.'
			: found !== undefined && isLoose
				? `The two move against each other by ${fixedText(found.rmsDegrees, 0)}° and ${fixedText(found.rmsMm, 0)} mm rms: hold the second one still in the hand, and see that the two logs are of one hand.`
				: undefined;
	const problems = problem === undefined ? [] : [problem];
	const seconds = first === undefined || last === undefined ? 0 : last.t - first.t;
	const missing = problem === undefined ? missingFor(found, seconds, options.enough) : [];
	const given = problems.length === 0 ? givenBy(found) : notGiven;
	return {
		lag,
		result: {
			road,
			hand: options.hand,
			handedness: options.handedness,
			point: null,
			pointRegion: null,
			originFromPivot: [0, 0, 0],
			...given,
			steps: first === undefined ? [] : [{name: 'together', from: first.t, to: last?.t ?? first.t}],
			swings: [],
			gestureFit: null,
			strayMm: found?.rmsMm ?? null,
			strayDegrees: found?.rmsDegrees ?? null,
			missing,
			problems,
			verdict: problems.length > 0 ? 'fail' : missing.length > 0 ? 'unproven' : 'pass',
			enough: options.enough,
		},
	};
}

type Taken = {
	readonly road: Road;
	readonly found: Offset | undefined;
	/** The two share a space, and move against each other in it. */
	readonly isLoose: boolean;
};

/** The two share a space, unless it is said otherwise, or they move against each other and two spaces explain it better. */
function takeRoad(pairs: ReturnType<typeof pairsOf>, spaces: TwoStreamOptions['spaces']): Taken {
	const shared = spaces === 'two' ? undefined : meanOffset(pairs);
	const isLoose = shared !== undefined && (shared.rmsDegrees > mostSlack.degrees || shared.rmsMm > mostSlack.mm);
	const apart = spaces === 'one' || (shared && !isLoose) ? undefined : offsetAcrossSpaces(pairs);
	const isApart = apart !== undefined && (shared === undefined || apart.rmsMm * surelyBetter < shared.rmsMm);
	const road: Road = isApart || spaces === 'two' ? 'two-spaces' : 'second';
	return road === 'two-spaces' ? {road, found: apart, isLoose: false} : {road, found: shared, isLoose};
}

type Given = Pick<MountResult, 'turn' | 'turnRegion' | 'place' | 'placeRegion'>;

const notGiven: Given = {turn: null, turnRegion: null, place: null, placeRegion: null};

/** An offset is given once it is known how well it is known. */
function givenBy(found: Offset | undefined): Given {
	if (found?.turnRegion === undefined || found.placeRegion === undefined) return notGiven;
	const {turn, turnRegion, place, placeRegion} = found;
	return {turn, turnRegion, place, placeRegion};
}

/** What is still to be moved, for `seconds` that both were seen in. */
function missingFor(found: Offset | undefined, seconds: number, enough: Enough): Missing[] {
	if (found === undefined) {
		const move = 'turn the hand about two axes at least, by 45° and more';
		return [
			{what: 'rotation', move},
			{what: 'position', move},
		];
	}
	if (found.turnRegion === undefined || found.placeRegion === undefined) {
		const move = `go on moving the hand with both: ${leastBlocks} s are needed, there are ${Math.floor(seconds)} s`;
		return [
			{what: 'rotation', move},
			{what: 'position', move},
		];
	}
	const degrees = leastKnown(found.turnRegion).deviation / degree;
	const mm = leastKnown(found.placeRegion).deviation;
	const longer = (ratio: number) =>
		`go on moving the hand with both, turning it all ways, about ${Math.ceil(seconds * (ratio ** 2 - 1))} s more`;
	return [
		...(degrees > enough.degrees ? [{what: 'rotation' as const, move: longer(degrees / enough.degrees)}] : []),
		...(mm > enough.mm ? [{what: 'position' as const, move: longer(mm / enough.mm)}] : []),
	];
}
