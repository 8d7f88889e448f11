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
	const shared = options.spaces === 'two' ? undefined : meanOffset(pairs);
	const isLoose = shared !== undefined && (shared.rmsDegrees > mostSlack.degrees || shared.rmsMm > mostSlack.mm);
	const apart = options.spaces === 'one' || (shared && !isLoose) ? undefined : offsetAcrossSpaces(pairs);
	const isApart = apart !== undefined && (shared === undefined || apart.rmsMm * surelyBetter < shared.rmsMm);
	const road: Road = isApart || options.spaces === 'two' ? 'two-spaces' : 'second';
	const found = road === 'two-spaces' ? apart : shared;
	const missing: Missing[] = [];
	const problems: string[] = [];
	if (pairs.length === 0) {
		problems.push('The two logs have no moment in common: record both at once, with the times of one clock.');
	} else if (found === undefined) {
		missing.push({what: 'rotation', move: 'turn the hand about two axes at least, by 45° and more'});
		missing.push({what: 'position', move: 'turn the hand about two axes at least, by 45° and more'});
	} else if (road === 'second' && isLoose) {
		problems.push(
			`The two move against each other by ${found.rmsDegrees.toFixed(0)}° and ${found.rmsMm.toFixed(0)} mm rms: hold the second one still in the hand, and see that the two logs are of one hand.`,
		);
	} else judge(found, pairs[pairs.length - 1].t - pairs[0].t, options.enough, missing);
	const isGiven =
		found !== undefined && problems.length === 0 && found.turnRegion !== undefined && found.placeRegion !== undefined;
	return {
		lag,
		result: {
			road,
			hand: options.hand,
			handedness: options.handedness,
			turn: isGiven ? found.turn : null,
			turnRegion: isGiven ? found.turnRegion! : null,
			point: null,
			pointRegion: null,
			originFromPivot: [0, 0, 0],
			place: isGiven ? found.place : null,
			placeRegion: isGiven ? found.placeRegion! : null,
			steps: pairs.length === 0 ? [] : [{name: 'together', from: pairs[0].t, to: pairs[pairs.length - 1].t}],
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

function judge(found: Offset, seconds: number, enough: Enough, missing: Missing[]): void {
	if (found.turnRegion === undefined || found.placeRegion === undefined) {
		const move = `go on moving the hand with both: ${leastBlocks} s are needed, there are ${Math.floor(seconds)} s`;
		missing.push({what: 'rotation', move}, {what: 'position', move});
		return;
	}
	const degrees = leastKnown(found.turnRegion).deviation / degree;
	const mm = leastKnown(found.placeRegion).deviation;
	const longer = (ratio: number) =>
		`go on moving the hand with both, turning it all ways, about ${Math.ceil(seconds * (ratio ** 2 - 1))} s more`;
	if (degrees > enough.degrees) missing.push({what: 'rotation', move: longer(degrees / enough.degrees)});
	if (mm > enough.mm) missing.push({what: 'position', move: longer(mm / enough.mm)});
}
