// Dead: nothing that a glove does depends on the number. Missing: a case can be drawn, and nobody has yet.
const sameSecond = 'dead: `lasts` asks for the same second';
const twoHalves = 'dead: jagged runs are noted from two half seconds on (features/jagged-runs.ts)';
const jaggedRun = 'dead: a run is one of half seconds as jagged as that, else `lasts` is 0 (features/jagged-runs.ts)';
const sixTrips = 'dead: copies are compared over six trips (features/ghosts.ts)';
const sinksLast = 'dead: three sinks take some eight seconds to be seen (features/sinks.ts)';
const fiveSeconds = 'dead: block means are taken over five seconds (features/wanders.ts)';
const stretchEnds = 'dead: a stretch ends where its means pass that range (features/stillness.ts)';
const halfSecond = 'dead: pauses are noted from half a second on (features/link/line-spacing.ts)';
const eightEach = 'dead: 36 edges are more than eight at each of four touches';
const threeRests =
	'dead: borrowed travel is told after three rests of 0.75 s that begin a quarter second apart (features/own-travel.ts)';

/** Moves that no data test notices, by `code/way/limit down` or `… up`, each with the reason. */
export const unnoticed = {
	'floating-input/noise/watched down': sameSecond,
	'floating-input/noise/jagged down': jaggedRun,
	'floating-input/noise/lasts down': twoHalves,
	'floating-input/ghost/trips down': sixTrips,
	'floating-input/sinking/watched down': sinksLast,
	'floating-input/sinking/watched up': sinksLast,
	'floating-input/wander/watched down': fiveSeconds,
	'floating-input/wander/restlessBorrowed down': threeRests,
	'stuck-low/still/within up': stretchEnds,
	'button-floating/edges/touches down': eightEach,
	'stall/pause/gap down': halfSecond,
};
