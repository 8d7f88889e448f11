// Dead: nothing that a glove does depends on the number. Missing: a case can be drawn, and nobody has yet.
const sameSecond = 'dead: `lasts` asks for the same second';
const twoHalves = 'dead: jagged runs are noted from two half seconds on (features/jagged-runs.ts)';
const sixTrips = 'dead: copies are compared over six trips (features/ghosts.ts)';
const sinksLast = 'dead: three sinks take some eight seconds to be seen (features/sinks.ts)';
const fiveSeconds = 'dead: block means are taken over five seconds (features/wanders.ts)';
const halfSecond = 'dead: pauses are noted from half a second on (features/link/line-spacing.ts)';
const eightEach = 'dead: 36 edges are more than eight at each of four touches';
const movedAlone = 'missing: a finger that moves alone, then comes loose while the others work and rest in turn';
const untimed = 'missing: noise in a log without times';
const leapsAlike = 'missing: open pins that leap together';
const borrowed = 'missing: a pin that wanders and copies the one before it';
const hums = 'missing: a line with others beside it, in two windows of rest, in half of the motion';

/** Moves that no data test notices, by `code/way/limit down` or `… up`, each with the reason. */
export const unnoticed = {
	'floating-input/noise/watched down': sameSecond,
	'floating-input/noise/lasts down': twoHalves,
	'floating-input/noise/lastsAfterMoving down': movedAlone,
	'floating-input/noise/lastsAfterMoving up': movedAlone,
	'floating-input/noise/restsToo down': movedAlone,
	'floating-input/noise/restsToo up': movedAlone,
	'floating-input/noise/worse down': movedAlone,
	'floating-input/noise/worse up': movedAlone,
	'floating-input/noise/lastsUntimed down': untimed,
	'floating-input/noise/lastsUntimed up': untimed,
	'floating-input/noise/shared down': leapsAlike,
	'floating-input/noise/shared up': leapsAlike,
	'floating-input/ghost/trips down': sixTrips,
	'floating-input/sinking/watched down': sinksLast,
	'floating-input/sinking/watched up': sinksLast,
	'floating-input/wander/watched down': fiveSeconds,
	'floating-input/wander/restlessBorrowed down': borrowed,
	'floating-input/wander/restlessBorrowed up': borrowed,
	'mains-hum/line/windows down': hums,
	'mains-hum/line/windows up': hums,
	'mains-hum/line/narrow down': hums,
	'mains-hum/line/narrow up': hums,
	'mains-hum/line/inMotion down': hums,
	'mains-hum/line/inMotion up': hums,
	'button-floating/edges/touches down': eightEach,
	'stall/pause/gap down': halfSecond,
};
