import type {Status} from './fault-code.ts';
import type {FaultCode} from './registry.ts';

/** Where the cause must be seen to explain the other. */
type Where =
	/** On the same channel. */
	| 'same'
	/** Anywhere: on any channel or on the link. */
	| 'any'
	/** On all channels together, of which this is one. */
	| 'together';

type Cause = {
	readonly cause: FaultCode;
	/** What the same readings would also be taken for. */
	readonly explains: readonly FaultCode[];
	readonly where: Where;
	/** Found as this, it is but a question and hides nothing. */
	readonly notAs?: Status;
	/** The one cause that both would name. */
	readonly because: string;
};

/** Several of them in a line; spread by themselves they would be any text. */
const codes = (...each: readonly FaultCode[]): readonly FaultCode[] => each;

/**
 * One cause gives one finding. While a winner is open, and for as long as its stretch overlaps, its losers are
 * neither raised nor kept. The table is the only place where findings know of each other.
 */
const causes: readonly Cause[] = [
	{
		cause: 'wrong-baud',
		where: 'any',
		explains: [
			...codes(
				'broken-frames',
				'stray-text',
				'slow-frames',
				'uneven-frames',
				'bursty-delivery',
				'lost-frames',
				'stall',
			),
			...codes('line-saturated', 'device-restart', 'floating-input', 'stuck-low', 'stuck-high', 'stuck-mid', 'dropout'),
			...codes('excess-noise', 'mains-hum', 'wrong-full-scale', 'coarse-steps', 'duplicate-channel', 'button-floating'),
		],
		because: 'junk is no reading: nothing that is said about sensors or frames would be true',
	},
	{
		cause: 'floating-input',
		where: 'same',
		explains: [
			...codes('excess-noise', 'mains-hum', 'rough-track', 'stuck-low', 'stuck-high', 'stuck-mid', 'narrow-span'),
			...codes('baseline-drift', 'backlash', 'dropout'),
			...codes('reversed-sensor', 'crosstalk', 'coarse-steps', 'clipped-range', 'duplicate-channel'),
			...codes('stick-off-centre', 'stick-no-return', 'stick-short-throw', 'settings-stale'),
		],
		because: 'an open pin shows anything: noise, hum, copies and odd ranges are its symptoms',
	},
	{
		cause: 'wrong-full-scale',
		where: 'any',
		// "Right scale, right wiring?" of a glove all of whose fingers hardly move.
		notAs: 'function-check',
		explains: [
			...codes('floating-input', 'dropout', 'stuck-low', 'stuck-high', 'stuck-mid', 'duplicate-channel', 'rough-track'),
			...codes('clipped-range', 'shared-ceiling', 'narrow-span', 'reversed-sensor', 'baseline-drift', 'backlash'),
			...codes('stick-off-centre', 'stick-no-return', 'stick-short-throw', 'settings-stale'),
		],
		because: 'ends, middles and shares of a scale that is another are none',
	},
	{
		cause: 'coarse-steps',
		where: 'same',
		explains: [
			'stuck-low',
			'stuck-high',
			'stuck-mid',
			'backlash',
			'baseline-drift',
			'excess-noise',
			'dropout',
			'rough-track',
			'clipped-range',
			'stick-no-return',
		],
		because: 'between two coarse levels nothing changes, and at a level boundary the reading leaps',
	},
	{
		cause: 'coarse-steps',
		where: 'any',
		explains: ['shared-ceiling'],
		because: 'the highest coarse level is the same for all',
	},
	...codes('stuck-low', 'stuck-high', 'stuck-mid').map(
		(cause): Cause => ({
			cause,
			where: 'same',
			explains: [
				...codes('narrow-span', 'clipped-range', 'backlash', 'baseline-drift', 'reversed-sensor', 'duplicate-channel'),
				...codes('stick-off-centre', 'stick-short-throw', 'stick-no-return', 'crosstalk', 'settings-stale'),
			],
			because: 'a reading that does not move has no travel, centre or shape',
		}),
	),
	{
		cause: 'supply-ripple',
		where: 'any',
		explains: [
			'excess-noise',
			'mains-hum',
			'crosstalk',
			'dropout',
			'floating-input',
			'backlash',
			'stick-off-centre',
			'stick-no-return',
			'stick-short-throw',
			'shared-ceiling',
			'baseline-drift',
		],
		because: 'one shaking supply, not several bad sensors',
	},
	{cause: 'mains-hum', where: 'same', explains: ['excess-noise'], because: 'the noise is the hum'},
	{
		cause: 'excess-noise',
		where: 'same',
		explains: ['rough-track'],
		because: 'noise that is there at rest is there in motion',
	},
	{
		cause: 'crosstalk',
		where: 'same',
		explains: ['stick-off-centre', 'stick-no-return'],
		because: 'a level pushed by its neighbour is not where the stick rests',
	},
	{
		cause: 'dropout',
		where: 'same',
		explains: ['excess-noise', 'rough-track', 'backlash'],
		because: 'jumps that come back are no noise, and each is a kink',
	},
	{
		cause: 'narrow-span',
		where: 'same',
		explains: ['backlash', 'baseline-drift', 'settings-stale'],
		because: 'shares of a span that is not there mean nothing',
	},
	{
		cause: 'clipped-range',
		where: 'same',
		explains: ['backlash', 'settings-stale'],
		because: 'a reading held at a rail starts late and ends early, and its end is the rail',
	},
	{
		cause: 'shared-ceiling',
		where: 'any',
		explains: ['backlash', 'clipped-range', 'settings-stale'],
		because: 'flat tops are the ceiling',
	},
	{
		cause: 'duplicate-channel',
		where: 'same',
		explains: ['crosstalk', 'settings-stale'],
		because: 'one signal on two pins',
	},
	{
		cause: 'device-restart',
		where: 'any',
		explains: ['stall', 'silent', 'stray-text', 'lost-frames'],
		because: 'the gap, the text and the counter are the restart',
	},
	{
		cause: 'bursty-delivery',
		where: 'any',
		explains: ['uneven-frames', 'stall', 'slow-frames'],
		because: 'batched delivery is not an unsteady frame rate',
	},
	{
		cause: 'line-saturated',
		where: 'any',
		explains: ['slow-frames', 'uneven-frames'],
		because: 'frames wait for the line: the line sets the rate, and lines of unlike length the spacing',
	},
	{
		cause: 'lost-frames',
		where: 'any',
		explains: ['uneven-frames'],
		because: 'gaps of whole frames are missing frames',
	},
	{
		cause: 'broken-frames',
		where: 'any',
		explains: [
			...codes('dropout', 'rough-track', 'floating-input', 'mains-hum', 'excess-noise', 'uneven-frames', 'slow-frames'),
		],
		because: 'a damaged line is a frame not read, and a number that lost its front looks like a jump of the sensor',
	},
	{
		cause: 'stall',
		where: 'any',
		explains: ['silent', 'uneven-frames'],
		because: 'a silence that is over was a pause, and one long interval among even ones is no jitter',
	},
	{
		cause: 'slow-frames',
		where: 'any',
		explains: ['uneven-frames'],
		because: 'at a few frames a second every interval is long; whether they are steady is part of the finding',
	},
	{
		cause: 'button-floating',
		where: 'same',
		explains: ['button-bounce', 'button-held'],
		because: 'a pin without pull-up toggles by itself',
	},
	{
		cause: 'reversed-sensor',
		where: 'same',
		explains: ['settings-stale'],
		because: 'readings that go the wrong way end where the others begin',
	},
	{
		cause: 'baseline-drift',
		where: 'same',
		explains: ['settings-stale'],
		because: 'ends that move are where the sheet says for a while only',
	},
	{
		cause: 'settings-stale',
		where: 'together',
		explains: ['settings-stale'],
		because: 'one factor for all is one supply or one full scale, not several fingers',
	},
	{cause: 'port-lost', where: 'any', explains: ['silent', 'stall'], because: 'a port that is gone sends nothing'},
];

/** What may explain each code, made once from the table. */
const causesOf: ReadonlyMap<string, readonly Cause[]> = (() => {
	const map = new Map<string, Cause[]>();
	for (const cause of causes) for (const code of cause.explains) map.set(code, [...(map.get(code) ?? []), cause]);
	return map;
})();

/** A finding as far as causes ask. */
type Found = {readonly code: string; readonly channel: string | null; readonly status: Status};

/** Whether anything may explain a code. */
export function hasCauses(code: string): boolean {
	return causesOf.has(code);
}

/** Whether a finding may explain what would be found as `code` on a channel (null: the link), were it seen at the same time. */
export function mayExplain(found: Found, code: string, channel: string | null): boolean {
	const causes = causesOf.get(code);
	if (causes === undefined) return false;
	return causes.some(
		({cause, where, notAs}) => found.code === cause && found.status !== notAs && isThere(where, found.channel, channel),
	);
}

function isThere(where: Where, found: string | null, channel: string | null): boolean {
	if (where === 'together') return found === null && channel !== null;
	return where === 'any' || found === channel;
}

/** Nearest to the cause first (check-values D5.5); the rest of the link comes last. */
const order: readonly string[] = [
	...codes('silent', 'port-lost', 'wrong-baud', 'broken-frames', 'device-restart', 'wrong-full-scale', 'supply-ripple'),
	...codes('floating-input', 'dropout', 'stuck-low', 'stuck-high', 'stuck-mid', 'duplicate-channel', 'mains-hum'),
	...codes(
		'excess-noise',
		'coarse-steps',
		'rough-track',
		'crosstalk',
		'clipped-range',
		'shared-ceiling',
		'narrow-span',
	),
	...codes('reversed-sensor', 'swapped-channels', 'stick-off-centre', 'stick-no-return', 'stick-short-throw'),
	...codes('stick-reversed', 'stick-swapped', 'baseline-drift', 'backlash', 'settings-stale'),
];

/** 0 for what is nearest to the cause. */
export function causeRank(code: string): number {
	const rank = order.indexOf(code);
	return rank < 0 ? order.length : rank;
}
