import type {AnalogFeatures} from './analog-features.ts';
import type {FrameHistory} from './frame-history.ts';

/** Rest positions kept. */
const kept = 64;

/** A stick is at rest once both axes have been quiet for this long. */
const restSeconds = 0.5;

/** Smallest reach of a side, share of half scale: what a rest away from the middle and noise come to. */
const leastReach = 0.04;

/** A block of more than this is one of a slow stream. */
const longBlockSeconds = 0.3;

/** A throw counts once the stick has left its last rest point by this share of full scale. */
const throwShare = 0.2;

/** The stick: where it rests, how far it reaches, and how often it was turned around. Positions in counts. */
export class StickFeatures {
	/** Places of the axes among the analog channels. */
	readonly x: number;
	readonly y: number;
	/** Rest positions after each release, and the time they began; the newest is refined while the rest lasts. */
	rests = 0;
	readonly restX = new Float64Array(kept);
	readonly restY = new Float64Array(kept);
	readonly restFrom = new Float64Array(kept);
	readonly restSeconds = new Float64Array(kept);
	/** Farthest reach from mid-scale in eight directions, share of half scale: right, then every 45° counter-clockwise. */
	readonly reach = new Float64Array(8);
	/** Farthest reach along −x, +x, −y, +y, share of half scale; lone glitches left out. */
	readonly axisReach = new Float64Array(4);
	/** Whole angle turned so far with the stick well off the middle, radians; signed, so back and forth cancels. */
	turned = 0;
	/** Absolute turns completed, counting both directions. */
	turns = 0;
	/** Frames with an axis off its middle by half of half scale or more. */
	readonly outFrames = new Float64Array(2);
	/** Frames in which both axes lay at a rail, per corner: a round gate never allows that. */
	readonly cornerFrames = new Float64Array(4);
	/** Places of the rests in order of their position; those in use come first. */
	private readonly orderX = Uint8Array.from({length: kept}, (_, place) => place);
	private readonly orderY = Uint8Array.from({length: kept}, (_, place) => place);
	private quietSince = Number.NaN;
	private away = true;
	private lastAngle = Number.NaN;
	private readonly lastAxis = new Float64Array(4);

	constructor(x: number, y: number) {
		this.x = x;
		this.y = y;
	}

	close(analog: AnalogFeatures, history: FrameHistory, from: number, to: number): void {
		this.followFrames(analog, history, from, to);
		this.followRest(analog);
	}

	private followFrames(analog: AnalogFeatures, history: FrameHistory, from: number, to: number): void {
		const {middle, fullScale, railLow, railHigh} = analog.scale;
		const half = fullScale / 2;
		const rail = 0.005 * fullScale;
		const columnX = analog.columns[this.x];
		const columnY = analog.columns[this.y];
		for (let frame = from; frame < to; frame++) {
			const base = history.base(frame);
			const readX = history.values[base + columnX];
			const readY = history.values[base + columnY];
			const dx = (readX - middle) / half;
			const dy = (readY - middle) / half;
			if (Number.isNaN(dx) || Number.isNaN(dy)) continue;
			this.widenAxes(dx, dy);
			const radius = Math.sqrt(dx * dx + dy * dy);
			if (radius >= 0.3) {
				const angle = Math.atan2(dy, dx);
				// The eighth of the circle it points into.
				const eighth = ((Math.round(angle / (Math.PI / 4)) % 8) + 8) % 8;
				if (radius > this.reach[eighth]) this.reach[eighth] = radius;
			}
			// Turns are counted in shares of what each side has reached, or a short axis would hide them.
			const {axisReach} = this;
			const shareX = dx / Math.max(leastReach, axisReach[dx > 0 ? 1 : 0]);
			const shareY = dy / Math.max(leastReach, axisReach[dy > 0 ? 3 : 2]);
			if (shareX * shareX + shareY * shareY >= 0.25) {
				const angle = Math.atan2(shareY, shareX);
				if (!Number.isNaN(this.lastAngle)) {
					let step = angle - this.lastAngle;
					if (step > Math.PI) step -= 2 * Math.PI;
					else if (step < -Math.PI) step += 2 * Math.PI;
					this.turned += step;
					if (Math.abs(this.turned) >= 2 * Math.PI) {
						this.turns++;
						this.turned -= Math.sign(this.turned) * 2 * Math.PI;
					}
				}
				this.lastAngle = angle;
			} else this.lastAngle = Number.NaN;
			const railX = readX <= railLow + rail || readX >= railHigh - rail;
			const railY = readY <= railLow + rail || readY >= railHigh - rail;
			if (railX && railY) this.cornerFrames[(dx > 0 ? 1 : 0) + (dy > 0 ? 2 : 0)]++;
			if (Math.abs(dx) >= 0.5) this.outFrames[0]++;
			if (Math.abs(dy) >= 0.5) this.outFrames[1]++;
		}
	}

	/** The lower of two neighbouring readings counts, so that a lone glitch is no reach. */
	private widenAxes(dx: number, dy: number): void {
		const {lastAxis, axisReach} = this;
		const now0 = -dx;
		const now2 = -dy;
		axisReach[0] = Math.max(axisReach[0], Math.min(now0, lastAxis[0]));
		axisReach[1] = Math.max(axisReach[1], Math.min(dx, lastAxis[1]));
		axisReach[2] = Math.max(axisReach[2], Math.min(now2, lastAxis[2]));
		axisReach[3] = Math.max(axisReach[3], Math.min(dy, lastAxis[3]));
		lastAxis[0] = now0;
		lastAxis[1] = dx;
		lastAxis[2] = now2;
		lastAxis[3] = dy;
	}

	private followRest(analog: AnalogFeatures): void {
		const {rows, scale} = analog;
		const newest = rows.count - 1;
		const slot = rows.slot(newest);
		const i = rows.at(newest, this.x);
		const j = rows.at(newest, this.y);
		const quiet = rows.moving[i] === 0 && rows.moving[j] === 0;
		const throwCounts = throwShare * scale.fullScale;
		if (!quiet) {
			this.quietSince = Number.NaN;
			if (this.rests === 0) this.away = true;
			else {
				const last = (this.rests - 1) % kept;
				const farX = Math.max(Math.abs(rows.low[i] - this.restX[last]), Math.abs(rows.high[i] - this.restX[last]));
				const farY = Math.max(Math.abs(rows.low[j] - this.restY[last]), Math.abs(rows.high[j] - this.restY[last]));
				if (farX >= throwCounts || farY >= throwCounts) this.away = true;
			}
			return;
		}
		if (Number.isNaN(this.quietSince)) this.quietSince = rows.start[slot];
		const lasted = rows.end[slot] - this.quietSince;
		// On a slow stream a block is long, and one quiet block may be a throw held for a moment.
		const block = rows.end[slot] - rows.start[slot];
		if (lasted < restSeconds || (block > longBlockSeconds && lasted < 3 * block - 1e-9)) return;
		const x = rows.mean[i];
		const y = rows.mean[j];
		if (this.away) {
			this.away = false;
			const place = this.rests % kept;
			this.restX[place] = x;
			this.restY[place] = y;
			this.restFrom[place] = this.quietSince;
			this.restSeconds[place] = lasted;
			this.rests++;
			return;
		}
		const place = (this.rests - 1) % kept;
		const share = Math.min(0.5, blockSeconds / Math.max(lasted, blockSeconds));
		this.restX[place] += share * (x - this.restX[place]);
		this.restY[place] += share * (y - this.restY[place]);
		this.restSeconds[place] += rows.end[slot] - rows.start[slot];
	}

	/** Number of the oldest rest still held. */
	get oldestRest(): number {
		return Math.max(0, this.rests - kept);
	}

	/**
	 * Rest point of an axis: the median of the rests weighted by how long they lasted, so that a stick held aside for
	 * a moment does not count as its rest; undefined before any rest.
	 */
	restPoint(axis: 'x' | 'y'): number | undefined {
		if (this.rests === 0) return undefined;
		const [source, order] = axis === 'x' ? [this.restX, this.orderX] : [this.restY, this.orderY];
		const held = Math.min(this.rests, kept);
		let total = 0;
		for (let i = 0; i < held; i++) {
			total += this.restSeconds[i];
			// Sorted by insertion: since the last time one place was added or has moved a little.
			const place = order[i];
			let k = i;
			for (; k > 0 && source[order[k - 1]] > source[place]; k--) order[k] = order[k - 1];
			order[k] = place;
		}
		let seen = 0;
		for (let i = 0; i < held; i++) {
			seen += this.restSeconds[order[i]];
			if (seen >= total / 2) return source[order[i]];
		}
		return undefined;
	}

	/** Whether an axis has been proven (design §2): pushed both ways and back to rest twice. `a` is its analog place. */
	isProven(_a: number): boolean {
		return false;
	}

	/** Likewise by what it did after a time, seconds. */
	provenSince(_a: number, _since: number): boolean {
		return false;
	}

	/** Rest positions that look like releases: within `reachCounts` of the rest point on both axes. */
	releases(axis: 'x' | 'y', reachCounts: number): number[] {
		const pointX = this.restPoint('x');
		const pointY = this.restPoint('y');
		if (pointX === undefined || pointY === undefined) return [];
		const positions: number[] = [];
		for (let number = this.oldestRest; number < this.rests; number++) {
			const place = number % kept;
			if (Math.abs(this.restX[place] - pointX) > reachCounts || Math.abs(this.restY[place] - pointY) > reachCounts)
				continue;
			positions.push(axis === 'x' ? this.restX[place] : this.restY[place]);
		}
		return positions;
	}
}

/** Seconds of a block: the weight of one more block in a running rest position. */
const blockSeconds = 0.25;
