/** One thing the hand does. Numbers left out are drawn the way the hand in the glove would do it. */
export type Gesture =
	| {readonly kind: 'rest'; readonly seconds: number}
	/** Still until `at` seconds into the round of `round` seconds that it is in: keeps a script in step. Not at all where that is over. */
	| {readonly kind: 'rest-until'; readonly at: number; readonly round: number}
	/** Whole hand closes and opens; `hertz` sets the pace of fast fists (people reach 3.3, check-values H13). */
	| {readonly kind: 'fist'; readonly times: number; readonly hertz?: number; readonly depth?: number}
	/** Every finger by itself, one after the other; `times` rounds. */
	| {readonly kind: 'each'; readonly times: number}
	| {readonly kind: 'curl'; readonly finger: string; readonly times: number; readonly depth?: number}
	/** A reel's cord is pulled on the bench: nothing but this finger's channel moves. */
	| {readonly kind: 'pull'; readonly finger: string; readonly times: number}
	/** A reel's cord is pulled from mark to mark of a ruler and back, twice, held a second at each. */
	| {readonly kind: 'ruler'; readonly finger: string; readonly stepMm: number}
	/** Fast small movements of one finger, 5–7 a second at most (check-values H12). */
	| {readonly kind: 'tap'; readonly finger: string; readonly times: number; readonly hertz?: number}
	/** Whole hand slowly; `seconds` for one way. */
	| {readonly kind: 'sweep'; readonly times: number; readonly seconds?: number}
	/** Fingers close one after the other, then open. */
	| {readonly kind: 'roll'; readonly times: number}
	/** Takes a half-bent pose and keeps it. */
	| {readonly kind: 'pose'; readonly seconds: number}
	/** Holds something as a living hand does, with creep, sway and changes (check-values H-real), and ends relaxed, not flat. */
	| {readonly kind: 'posture'; readonly seconds: number}
	/** A puppet is played: every finger its own, stick and buttons now and then. */
	| {readonly kind: 'play'; readonly seconds: number}
	| {readonly kind: 'stick-around'; readonly times: number}
	/** To each side and let go. */
	| {readonly kind: 'stick-sides'; readonly times: number}
	| {readonly kind: 'stick-jitter'; readonly seconds: number}
	/** `hertz` presses a second; otherwise an easy pace. */
	| {readonly kind: 'press'; readonly button: number; readonly times: number; readonly hertz?: number}
	| {readonly kind: 'keep-pressed'; readonly button: number; readonly seconds: number};

/** What is done at the same time. */
export type Step = readonly Gesture[];

/** Steps one after the other, from the start again when they are done. */
export type Script = readonly Step[];
