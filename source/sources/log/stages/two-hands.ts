import type {LeftOut} from '../../../stream/intake.ts';
import type {LineStage, StageFinder} from './line-stage.ts';

const left = /^\s*["'[(]?(?:l|left|lh|links)(?:[-_ ]?(?:hand|glove))?["'\])]?\s*[:,;|>=\t ]\s*(?=[+-]?\d|[A-Za-z{[(])/i;
const right =
	/^\s*["'[(]?(?:r|right|rh|rechts)(?:[-_ ]?(?:hand|glove))?["'\])]?\s*[:,;|>=\t ]\s*(?=[+-]?\d|[A-Za-z{[(])/i;
const stamp = /^\s*\[?(?:(?:\d{4}-\d\d-\d\d[T ])?\d{1,2}:\d\d:\d\d(?:[.,]\d+)?Z?|\d+\.\d+)\]?\s*(?:->|\||:|;|,)?\s*/;
const leastEach = 5;
const leastShare = 0.9;

/** Two gloves whose lines come by turns, told apart by a letter in front: a line of each makes one frame of two hands. */
class TwoHands implements LineStage {
	#lines = 0;
	#left: string | null = null;

	take(line: string, pass: (line: string) => void): void {
		const head = stamp.exec(line)?.[0] ?? '';
		const body = line.slice(head.length);
		if (left.test(body)) {
			this.#left = head + label(body.replace(left, ''), 'left');
			return;
		}

		if (!right.test(body)) {
			pass(line);
			return;
		}

		// A right hand whose left one is missing is half a frame.
		if (this.#left === null) return;
		this.#lines += 2;
		pass(`${this.#left} ${label(body.replace(right, ''), 'right')}`);
		this.#left = null;
	}

	get told(): LeftOut | undefined {
		return this.#lines === 0 ? undefined : {what: 'lines of two gloves by turns, two to a frame', lines: this.#lines};
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
	if (lefts < leastEach || rights < leastEach || lefts + rights < leastShare * bodies.length) return undefined;
	return new TwoHands();
};

/** `l:512 r:498` are two fingers or axes of one line. */
function isWholeHand(body: string): boolean {
	return (body.match(/\d+(?:\.\d+)?/g)?.length ?? 0) < 3;
}
