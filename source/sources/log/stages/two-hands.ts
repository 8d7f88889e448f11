import {readLabel} from '../../../framing/read-label.ts';
import {upperMedianOf} from '../../../math/nth-smallest.ts';
import type {LeftOut} from '../../../stream/intake.ts';
import {countNumbers, type LineStage, type StageFinder} from './line-stage.ts';

const left = /^\s*["'[(]?(?:l|left|lh|links)(?:[-_ ]?(?:hand|glove))?["'\])]?\s*[:,;|>=\t ]\s*(?=[+-]?\d|[A-Za-z{[(])/i;
const right =
	/^\s*["'[(]?(?:r|right|rh|rechts)(?:[-_ ]?(?:hand|glove))?["'\])]?\s*[:,;|>=\t ]\s*(?=[+-]?\d|[A-Za-z{[(])/i;
const stamp =
	/^\s*\[?(?:(?:\d{4}-\d\d-\d\d[T ])?\d{1,2}:\d\d:\d\d(?:[.,]\d+)?Z?|\d+\.\d+|\d+(?=\]?\s*->))\]?\s*(?:->|\||:|;|,)?\s*/;
/** Any name in front: `G1: 512,…`, `glove2 512 …`, `COM5 > 512,…`. */
const anyName =
	/^\s*["'[(]?([A-Za-z/][\w./#-]{0,30})["'\])]?\s*(?:->|=>|[:,;|>=\t ])\s*(?=["'[({]?[+-]?\d|[A-Za-z_][\w.-]*\s*[:=])/;
const leastEach = 5;
const leastShare = 0.9;
/** Of two senders that take turns each has at least so much of the lines, and lines change sender at least so often. */
const leastPart = 0.25;
const leastChanges = 0.4;
/** Values that a glove has at least. */
const leastValues = 3;

/** The two names that take turns in front of the lines, in order; undefined where they are not two, or do not. */
export function twoSenders(names: readonly string[]): readonly [string, string] | undefined {
	const tally = new Map<string, number>();
	for (const name of names) tally.set(name, (tally.get(name) ?? 0) + 1);
	const most = [...tally].sort((a, b) => b[1] - a[1]).slice(0, 2);
	if (
		most.length < 2 ||
		most.some(([name, count]) => name === '' || count < leastEach || count < leastPart * names.length)
	)
		return undefined;
	const own = names.filter(name => most.some(([one]) => one === name));
	const changes = own.filter((name, i) => i > 0 && name !== own[i - 1]).length;
	if (own.length < leastShare * names.length || changes < leastChanges * own.length) return undefined;
	const [first, second] = most.map(([name]) => name).sort();
	return [first, second];
}

type Glove = {
	readonly isOwn: (body: string) => boolean;
	readonly strip: (body: string) => string;
	readonly hand: string;
};

function gloveOf(pattern: RegExp, hand: string): Glove {
	return {isOwn: body => pattern.test(body), strip: body => body.replace(pattern, ''), hand};
}

function gloveNamed(name: string, hand: string): Glove {
	return {
		isOwn: body => anyName.exec(body)?.[1] === name,
		strip: body => body.replace(anyName, ''),
		hand,
	};
}

/** Two gloves whose lines come by turns, told apart by what stands in front: a line of each makes one frame of two hands. */
class TwoHands implements LineStage {
	#lines = 0;
	#alone = 0;
	#held: string | null = null;
	readonly #first: Glove;
	readonly #second: Glove;

	constructor(first: Glove, second: Glove) {
		this.#first = first;
		this.#second = second;
	}

	take(line: string, pass: (line: string) => void): void {
		const head = stamp.exec(line)?.[0] ?? '';
		const body = line.slice(head.length);
		if (this.#first.isOwn(body)) {
			if (this.#held !== null) this.#alone++;
			this.#held = head + label(this.#first.strip(body), this.#first.hand);
			return;
		}

		if (!this.#second.isOwn(body)) {
			pass(line);
			return;
		}

		// A hand whose other one is missing is half a frame.
		if (this.#held === null) {
			this.#alone++;
			return;
		}

		this.#lines += 2;
		pass(`${this.#held} ${label(this.#second.strip(body), this.#second.hand)}`);
		this.#held = null;
	}

	end(): void {
		if (this.#held !== null) this.#alone++;
		this.#held = null;
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0 ? undefined : {what: 'lines of two gloves by turns, two to a frame', lines: this.#lines};
	}

	get alsoTold(): LeftOut | undefined {
		return this.#alone === 0 ? undefined : {what: 'lines of one glove without the other one’s', lines: this.#alone};
	}
}

/** Each value under a label that names the hand: `left.0=512`, `left.thumb=512`. */
function label(body: string, hand: string): string {
	const named = [...body.matchAll(/([A-Za-z_][\w-]*)\s*[:=]\s*([+-]?\d+(?:\.\d+)?)/g)];
	if (named.length > 0) return named.map(([, name, value]) => `${hand}.${name}=${value}`).join(' ');
	const values = body.match(/[+-]?\d+(?:\.\d+)?/g) ?? [];
	return values.map((value, i) => `${hand}.${i}=${value}`).join(' ');
}

export const findTwoHands: StageFinder = sample => {
	const bodies = sample.filter(line => /\d/.test(line)).map(line => line.replace(stamp, ''));
	const lefts = bodies.filter(body => left.test(body) && !isWholeHand(body)).length;
	const rights = bodies.filter(body => right.test(body) && !isWholeHand(body)).length;
	if (lefts >= leastEach && rights >= leastEach && lefts + rights >= leastShare * bodies.length)
		return new TwoHands(gloveOf(left, 'left'), gloveOf(right, 'right'));
	return findNamed(bodies);
};

/** Any other two names, if neither is a label and both are followed by as many values. */
function findNamed(bodies: readonly string[]): LineStage | undefined {
	const names = bodies.map(body => anyName.exec(body)?.[1] ?? '');
	const two = twoSenders(names);
	if (two === undefined || two.some(name => name.length > 1 && readLabel(name) !== undefined)) return undefined;
	const counts = two.map(name => {
		const own = bodies.filter((_, i) => names[i] === name).map(body => countNumbers(body.replace(anyName, '')));
		return upperMedianOf(own);
	});
	if (counts[0] < leastValues || counts[0] !== counts[1]) return undefined;
	return new TwoHands(gloveNamed(two[0], 'glove-a'), gloveNamed(two[1], 'glove-b'));
}

/** `l:512 r:498` are two fingers or axes of one line. */
function isWholeHand(body: string): boolean {
	return (body.match(/\d+(?:\.\d+)?/g)?.length ?? 0) < 3;
}
