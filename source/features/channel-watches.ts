import {Agreement} from './agreement.ts';
import {Ceilings} from './ceilings.ts';
import {ClosingSenses} from './closing-senses.ts';
import {EqualPairs} from './equal-pairs.ts';
import type {Watch} from './features.ts';
import {Follow} from './follow.ts';
import {Ghosts} from './ghosts.ts';
import {JaggedRuns} from './jagged-runs.ts';
import {Kinks} from './kinks.ts';
import {Learning} from './learning.ts';
import {Loudness} from './loudness.ts';
import {MainsLines} from './mains-lines.ts';
import {MovementWalk} from './movement-walk.ts';
import {Openings} from './openings.ts';
import {OwnTravel} from './own-travel.ts';
import {Plays} from './plays.ts';
import {Pushes} from './pushes.ts';
import {Quiet} from './quiet.ts';
import {RailStretches} from './rail-stretches.ts';
import {RailTime} from './rail-time.ts';
import {Sinks} from './sinks.ts';
import {StateBlock} from './state-block.ts';
import {SupplyLeaps} from './supply-leaps.ts';
import {TravelEnds} from './travel-ends.ts';
import {Wanders} from './wanders.ts';

/** What is watched on each analog channel, one thing a file, all in one block of state that an epoch forgets. */
export abstract class ChannelWatches {
	/** Which channels follow the hand, which copy the one before, which jitter, wander, are loud at rest. */
	readonly follow: Follow;
	readonly ghosts: Ghosts;
	readonly jagged: JaggedRuns;
	readonly wanders: Wanders;
	readonly loudness: Loudness;
	readonly sinks: Sinks;
	readonly quiet: Quiet;
	readonly railStretches: RailStretches;
	readonly kinks: Kinks;
	readonly ownTravel: OwnTravel;
	/** What speaks for clipping, a shared ceiling and another full scale. */
	readonly railTime: RailTime;
	readonly ceilings: Ceilings;
	/** What channels have from mains, supply and each other. */
	readonly mainsLines: MainsLines;
	readonly supplyLeaps: SupplyLeaps;
	readonly pushes: Pushes;
	readonly equalPairs: EqualPairs;
	/** Whole-hand movements one by one, and what they show of each finger: how late it sets out, which way it goes, where it opens to. */
	readonly movements: MovementWalk;
	readonly plays: Plays;
	readonly agreement: Agreement;
	readonly openings: Openings;
	/** What each finger shows of its travel. */
	readonly travelEnds: TravelEnds;
	readonly closingSenses: ClosingSenses;
	/** 1 where the session holds a channel for proven (check-values D2), by place among the analog channels. */
	readonly proven: Uint8Array;
	/** 1 while the session holds a channel for an open pin. */
	readonly open: Uint8Array;
	/** 1 where the session has a finding open on a channel. */
	readonly troubled: Uint8Array;
	/** 1 while a channel's firmware is still widening its range, and what is known of that. */
	readonly learning: Uint8Array;
	readonly ranges: Learning;
	/** When the epoch of each analog channel began, where one of its own began later: seconds, and its first frame's number. */
	protected readonly channelFrom: Float64Array;
	protected readonly channelFrame: Float64Array;
	/** What is learned and forgotten where an epoch begins. */
	protected readonly learned = new StateBlock();
	/** In the order in which they look at a block: the later ones ask the earlier. */
	protected readonly inOrder: readonly Watch[];

	/** `channels`: how many analog channels there are. */
	constructor(channels: number) {
		const {learned} = this;
		this.proven = learned.bytes(channels);
		this.open = learned.bytes(channels);
		this.learning = learned.bytes(channels);
		this.ranges = new Learning(channels, learned);
		this.channelFrom = learned.floats(channels, Number.NEGATIVE_INFINITY);
		this.channelFrame = learned.floats(channels);
		this.troubled = learned.bytes(channels);
		this.plays = new Plays(channels, learned);
		this.agreement = new Agreement(channels, learned);
		this.openings = new Openings(channels, learned);
		this.travelEnds = new TravelEnds(channels, learned);
		this.closingSenses = new ClosingSenses(channels, learned);
		const takers = [this.plays, this.agreement, this.openings, this.closingSenses];
		this.movements = new MovementWalk(channels, learned, takers);
		this.follow = new Follow(channels, learned);
		this.ghosts = new Ghosts(channels, learned);
		this.jagged = new JaggedRuns(channels, learned);
		this.wanders = new Wanders(channels, learned);
		this.loudness = new Loudness(channels, learned);
		this.sinks = new Sinks(channels, learned);
		this.quiet = new Quiet(channels, learned);
		this.railStretches = new RailStretches(channels, learned);
		this.kinks = new Kinks(channels, learned);
		this.ownTravel = new OwnTravel(channels, learned);
		this.railTime = new RailTime(channels, learned);
		this.ceilings = new Ceilings(channels, learned);
		this.mainsLines = new MainsLines(channels, learned);
		this.supplyLeaps = new SupplyLeaps(learned);
		this.pushes = new Pushes(channels, learned);
		this.equalPairs = new EqualPairs(channels, learned);
		this.inOrder = [
			this.ranges,
			this.movements,
			this.openings,
			this.travelEnds,
			this.follow,
			this.ghosts,
			this.jagged,
			this.wanders,
			this.loudness,
			this.sinks,
			this.quiet,
			this.ownTravel,
			this.railTime,
			this.ceilings,
			this.railStretches,
			this.kinks,
			this.mainsLines,
			this.supplyLeaps,
			this.pushes,
			this.equalPairs,
		];
	}
}
