/** Where the winner must be seen for the loser to give way. */
type Where =
	/** On the same channel. */
	| 'same'
	/** Anywhere: on any channel or on the link. */
	| 'any';

export type Precedence = {
	readonly winner: string;
	readonly losers: readonly string[];
	readonly where: Where;
	/** The one cause that both would name. */
	readonly because: string;
};

/**
 * One cause gives one finding. While a winner is open, and for as long as its stretch overlaps, its losers are
 * neither raised nor kept. The table is the only place where findings know of each other.
 */
export const precedences: readonly Precedence[] = [
	{
		winner: 'wrong-baud',
		where: 'any',
		losers: [
			...['broken-frames', 'stray-text', 'slow-frames', 'uneven-frames', 'bursty-delivery', 'lost-frames', 'stall'],
			...['line-saturated', 'device-restart', 'floating-input', 'stuck-low', 'stuck-high', 'stuck-mid', 'dropout'],
			...['excess-noise', 'mains-hum', 'wrong-full-scale', 'coarse-steps', 'duplicate-channel', 'button-floating'],
		],
		because: 'junk is no reading: nothing that is said about sensors or frames would be true',
	},
	{
		winner: 'floating-input',
		where: 'same',
		losers: [
			...[
				'excess-noise',
				'stuck-low',
				'stuck-high',
				'stuck-mid',
				'narrow-span',
				'baseline-drift',
				'backlash',
				'dropout',
			],
			...['reversed-sensor', 'crosstalk', 'coarse-steps', 'clipped-range', 'duplicate-channel'],
			...['stick-off-centre', 'stick-no-return', 'stick-short-throw'],
		],
		because: 'an open pin shows anything: noise, hum, copies and odd ranges are its symptoms',
	},
	{
		winner: 'wrong-full-scale',
		where: 'any',
		losers: ['shared-ceiling', 'clipped-range', 'stick-off-centre', 'stick-short-throw', 'narrow-span', 'stuck-mid'],
		because: 'a top that only looks like one because the scale was declared wrongly',
	},
	{
		winner: 'coarse-steps',
		where: 'same',
		losers: [
			'stuck-low',
			'stuck-high',
			'stuck-mid',
			'backlash',
			'baseline-drift',
			'excess-noise',
			'dropout',
			'clipped-range',
			'stick-no-return',
		],
		because: 'between two coarse levels nothing changes, and at a level boundary the reading leaps',
	},
	{
		winner: 'coarse-steps',
		where: 'any',
		losers: ['shared-ceiling'],
		because: 'the highest coarse level is the same for all',
	},
	...['stuck-low', 'stuck-high', 'stuck-mid'].map(
		(winner): Precedence => ({
			winner,
			where: 'same',
			losers: [
				...['narrow-span', 'clipped-range', 'backlash', 'baseline-drift', 'reversed-sensor', 'duplicate-channel'],
				...['stick-off-centre', 'stick-short-throw', 'stick-no-return', 'crosstalk'],
			],
			because: 'a reading that does not move has no travel, centre or shape',
		}),
	),
	{
		winner: 'supply-ripple',
		where: 'any',
		losers: [
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
	{winner: 'mains-hum', where: 'same', losers: ['excess-noise'], because: 'the noise is the hum'},
	{
		winner: 'crosstalk',
		where: 'same',
		losers: ['stick-off-centre', 'stick-no-return'],
		because: 'a level pushed by its neighbour is not where the stick rests',
	},
	{
		winner: 'dropout',
		where: 'same',
		losers: ['excess-noise', 'backlash'],
		because: 'jumps that come back are no noise',
	},
	{
		winner: 'narrow-span',
		where: 'same',
		losers: ['backlash', 'baseline-drift'],
		because: 'shares of a span that is not there mean nothing',
	},
	{
		winner: 'clipped-range',
		where: 'same',
		losers: ['backlash'],
		because: 'a reading held at a rail starts late and ends early',
	},
	{winner: 'shared-ceiling', where: 'any', losers: ['backlash', 'clipped-range'], because: 'flat tops are the ceiling'},
	{winner: 'duplicate-channel', where: 'same', losers: ['crosstalk'], because: 'one signal on two pins'},
	{
		winner: 'device-restart',
		where: 'any',
		losers: ['stall', 'silent', 'stray-text', 'lost-frames', 'uneven-frames'],
		because: 'the gap, the text and the counter are the restart',
	},
	{
		winner: 'bursty-delivery',
		where: 'any',
		losers: ['uneven-frames', 'stall', 'slow-frames', 'lost-frames'],
		because: 'batched delivery is not an unsteady frame rate',
	},
	{
		winner: 'line-saturated',
		where: 'any',
		losers: ['slow-frames', 'uneven-frames'],
		because: 'frames wait for the line: the line sets the rate, and lines of unlike length the spacing',
	},
	{
		winner: 'lost-frames',
		where: 'any',
		losers: ['uneven-frames', 'stall'],
		because: 'gaps of whole frames are missing frames',
	},
	{
		winner: 'broken-frames',
		where: 'any',
		losers: ['lost-frames', 'uneven-frames', 'slow-frames'],
		because: 'a damaged line is a frame not read',
	},
	{
		winner: 'stall',
		where: 'any',
		losers: ['silent', 'uneven-frames'],
		because: 'the pause alone spoils the average',
	},
	{
		winner: 'slow-frames',
		where: 'any',
		losers: ['stall', 'uneven-frames'],
		because: 'at a few frames a second every interval is long, and none is what it was before',
	},
	{
		winner: 'button-floating',
		where: 'same',
		losers: ['button-bounce', 'button-held'],
		because: 'a pin without pull-up toggles by itself',
	},
	{winner: 'port-lost', where: 'any', losers: ['silent', 'stall'], because: 'a port that is gone sends nothing'},
];

/** Who may silence a code: `[winner, where]` for each loser, made once from the table. */
export const winnersOver: ReadonlyMap<string, readonly (readonly [winner: string, where: Where])[]> = (() => {
	const map = new Map<string, (readonly [string, Where])[]>();
	for (const {winner, losers, where} of precedences) {
		for (const loser of losers) map.set(loser, [...(map.get(loser) ?? []), [winner, where]]);
	}
	return map;
})();
