import type {Features, Watch} from './features.ts';
import type {StateBlock} from './state-block.ts';

/** The two full scales that boards have and settings confuse (10 and 12 bit). */
export const tenBit = 1023;
export const twelveBit = 4095;

/** A finger that gets this near to the top of 10 bit. */
const nearTop = 1000;

/** A stick of a 10-bit board rests this near to the middle of 10 bit (design §5.4). */
const nearMiddle = 0.06;

/** Pinned, or at zero: for a second. */
const seconds = 1;

/** What speaks for another full scale than the declared or assumed one. */
export class ScaleSigns implements Watch {
	/** Seconds at exactly 1023, and the longest run at exactly 0, per channel. */
	private readonly pinned: Float64Array;
	private readonly zeroRun: Float64Array;
	private readonly zeroed: Uint8Array;
	private readonly sawZero: Uint8Array;
	private readonly fractions: Uint8Array;

	constructor(
		private readonly channels: number,
		state: StateBlock,
	) {
		this.pinned = state.floats(channels);
		this.zeroRun = state.floats(channels);
		this.zeroed = state.bytes(channels);
		this.sawZero = state.bytes(channels);
		this.fractions = state.bytes(channels);
	}

	close(features: Features): void {
		const {rows, columns} = features.analog;
		const {history} = features;
		const slot = rows.slot(rows.count - 1);
		const each = (rows.end[slot] - rows.start[slot]) / Math.max(1, rows.frames[slot]);
		for (let a = 0; a < this.channels; a++) {
			for (let frame = rows.firstFrame[slot]; frame < rows.firstFrame[slot] + rows.frames[slot]; frame++) {
				const reading = history.values[history.base(frame) + columns[a]];
				if (reading === tenBit) this.pinned[a] += each;
				if (reading === 0) this.sawZero[a] = 1;
				this.zeroRun[a] = reading === 0 ? this.zeroRun[a] + each : 0;
				if (this.zeroRun[a] >= seconds) this.zeroed[a] = 1;
				if (!Number.isInteger(reading)) this.fractions[a] = 1;
			}
		}
	}

	/** Channels that lie at exactly 1023 and never above, none of which ever lies at zero. */
	pinnedAtTenBit(features: Features): number {
		const {highest} = features.analog;
		const at = Array.from(highest.keys()).filter(a => highest[a] === tenBit && this.pinned[a] >= seconds);
		const isZeroed = at.some(a => this.zeroed[a] === 1) || fingersOf(features).some(f => this.sawZero[f] === 1);
		return isZeroed ? 0 : at.length;
	}

	/** Fingers whose whole-number readings go below 0 while their other end is a reading of the scale. */
	fingersBelowZero(features: Features): number {
		const {lowest, highest} = features.analog;
		const fingers = fingersOf(features);
		const isBelow = (a: number): boolean => lowest[a] < 0;
		// A glove all of whose channels are signed sends them so.
		if (Array.from(lowest.keys()).every(isBelow)) return 0;
		const most = features.scale.declared ?? features.scale.fullScale;
		return fingers.filter(a => isBelow(a) && this.fractions[a] === 0 && highest[a] > 0 && highest[a] <= most).length;
	}

	/** Fingers that come near the top of 10 bit; 3 as well where both axes of the stick rest near the middle of 10 bit. */
	likeTenBit(features: Features): {readonly fingers: number; readonly stickRests: boolean} {
		const {highest} = features.analog;
		const fingers = fingersOf(features).filter(f => highest[f] >= nearTop).length;
		const rests = (['x', 'y'] as const).map(axis => features.stick?.restPoint(axis));
		const stickRests = rests.every(rest => rest !== undefined && Math.abs(rest - tenBit / 2) <= nearMiddle * tenBit);
		return {fingers, stickRests};
	}

	forget(a: number): void {
		this.pinned[a] = 0;
		this.zeroRun[a] = 0;
		this.zeroed[a] = 0;
		this.sawZero[a] = 0;
		this.fractions[a] = 0;
	}
}

function fingersOf({hands}: Features): number[] {
	return hands.flatMap(({fingers}) => [...fingers]);
}
