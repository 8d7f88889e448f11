import type {StateBlock} from '../state-block.ts';
import {type Arrival, cameAt} from './arrivals.ts';
import {isBootText, soundsLikeStart, tellsOfSag} from './start-up-text.ts';
import {TextList} from './text-list.ts';

/** What told that the board started again. */
type RestartSign = 'counter' | 'clock' | 'text';
const signs: readonly RestartSign[] = ['counter', 'clock', 'text'];

/** Signs within so many seconds of each other belong to one restart: a boot text takes a second or two. */
const oneRestartSeconds = 3;

/** Opening a port toggles DTR, which resets many boards: what begins anew so soon after it was meant to. */
const openingSeconds = 3;

/** The bit after those of the signs. */
const sagBit = 1 << signs.length;

const kept = 64;
const textBytes = 200;

/** Lines of start-up text remembered. */
const bannerLines = 48;

/** Texts whose rhythm is followed, and how alike two stretches of frames between them are in a rhythm. */
const rhythms = 32;
const alike = 0.25;

/** A banner line that does not come again for this many times its first stretch came with a restart. */
const restartAfter = 1.5;

/** A board that starts again says nothing for at least this long; a line that comes regularly comes between frames. */
const startSeconds = 0.25;

/** Shorter texts are met by chance. */
const leastText = 4;

/**
 * When the board started again: its counter or clock fell back to near zero, or text that came before the first frame came
 * again. A line that comes regularly (a chat's names, a status print) is no start-up text.
 */
export class RestartSigns {
	/** Restarts so far, for all times. */
	readonly count: Int32Array;
	/** Of the latest `kept`: when it was noticed, and when the frames before it stopped, seconds. */
	readonly at: Float64Array;
	readonly from: Float64Array;
	/** When frames came again; NaN as long as none has. */
	readonly resumedAt: Float64Array;
	/** Frames of the session that came before the latest restart. */
	readonly framesBefore: Float64Array;
	/** Bit i: `signs[i]` was seen. */
	private readonly seen: Uint8Array;
	private readonly details: TextList;
	/** Text that came before the first frame of this epoch or an earlier one. */
	private readonly banner: TextList;
	/** How many lines in a row have been banner lines. */
	private readonly bannerRun: Int32Array;
	private readonly heard: TextList;
	/** Per text heard: frames before it came last, frames between its last two, and whether its rhythm is even. */
	private readonly heardAt: Float64Array;
	private readonly heardGap: Float64Array;
	private readonly isRegular: Uint8Array;
	/** A lone banner line that came again and may yet turn out to come regularly: frames before it and since the time before. */
	private readonly doubtFrames: Float64Array;
	private readonly doubtGap: Float64Array;
	private readonly doubtAt: Float64Array;
	private readonly doubtFrom: Float64Array;
	private readonly doubt: TextList;
	private readonly openedAt: Float64Array;

	constructor(state: StateBlock) {
		this.count = state.ints(1);
		this.at = state.floats(kept);
		this.from = state.floats(kept);
		this.resumedAt = state.floats(kept, Number.NaN);
		this.framesBefore = state.floats(1);
		this.seen = state.bytes(kept);
		this.details = new TextList(kept, textBytes, state);
		this.banner = new TextList(bannerLines, textBytes, state);
		this.bannerRun = state.ints(1);
		this.heard = new TextList(rhythms, textBytes, state);
		this.heardAt = state.floats(rhythms);
		this.heardGap = state.floats(rhythms);
		this.isRegular = state.bytes(rhythms);
		this.doubtFrames = state.floats(1, Number.NaN);
		this.doubtGap = state.floats(1);
		this.doubtAt = state.floats(1);
		this.doubtFrom = state.floats(1);
		this.doubt = new TextList(1, textBytes, state);
		this.openedAt = state.floats(1, Number.NEGATIVE_INFINITY);
	}

	/** Place of restart `number` (from 0) in `at` and `from`. */
	place(number: number): number {
		return number % kept;
	}

	/** Number of the oldest restart held. */
	get oldest(): number {
		return Math.max(0, this.count[0] - kept);
	}

	/** What told of restart `number`, in words of the stream. */
	detail(number: number): string {
		return this.details.text(number);
	}

	/** What kinds of sign told of it. */
	signsOf(number: number): readonly RestartSign[] {
		return signs.filter((_, i) => (this.seen[this.place(number)] & (1 << i)) !== 0);
	}

	/** Whether a text of restart `number` tells of a supply that sagged. */
	sagged(number: number): boolean {
		return (this.seen[this.place(number)] & sagBit) !== 0;
	}

	/** Whether any of the restarts held was told with a sag. */
	get anySag(): boolean {
		for (let number = this.oldest; number < this.count[0]; number++) if (this.sagged(number)) return true;
		return false;
	}

	/** The port was opened in a way that resets many boards. */
	opened(t: number): void {
		this.openedAt[0] = t;
	}

	/** Takes a text that came before the first frame of an epoch: a boot is expected there. */
	takeBanner(text: string, t: number): void {
		this.note(text, 0);
		if (text.length >= leastText && /[a-z]/i.test(text) && this.banner.find(text) < 0) this.banner.add(text, t);
	}

	/**
	 * Takes a text from between the frames, or the line of a cut frame that may have one glued to it (`isCut`): `frames` came
	 * before it, the last of them at `from`. True where it tells that the board started again.
	 */
	takeText(text: string, t: number, from: number, frames: number, isCut: boolean): boolean {
		const isBanner = this.isBanner(text, isCut);
		this.bannerRun[0] = isBanner ? this.bannerRun[0] + 1 : 0;
		const gap = this.note(text, frames);
		const isAlone = !isCut && this.bannerRun[0] <= 1;
		const isTimely = gap >= 0 || t - from >= startSeconds;
		if (isBootText(text) || (isBanner && (!isAlone || (soundsLikeStart(text) && isTimely))))
			return this.noticed('text', t, from, frames, text);
		if (gap < 0) {
			if (this.doubt.latest === text) this.doubtFrames[0] = Number.NaN;
			return false;
		}
		if (isBanner && Number.isNaN(this.doubtFrames[0])) {
			this.doubtFrames[0] = frames;
			this.doubtGap[0] = gap;
			this.doubtAt[0] = t;
			this.doubtFrom[0] = from;
			this.doubt.add(text, t);
		}
		return false;
	}

	/** A frame came: the board is up again, and the next banner line stands alone. */
	takeFrame(frame: Arrival): void {
		this.bannerRun[0] = 0;
		const newest = this.place(this.count[0] - 1);
		if (this.count[0] > 0 && Number.isNaN(this.resumedAt[newest])) this.resumedAt[newest] = frame[cameAt];
	}

	/** A lone banner line that has not come again in its rhythm was start-up text. `frames` have come, `last`: all of them. */
	settle(frames: number, last: boolean): void {
		const before = this.doubtFrames[0];
		if (Number.isNaN(before) || (!last && frames - before < restartAfter * this.doubtGap[0])) return;
		this.doubtFrames[0] = Number.NaN;
		this.noticed('text', this.doubtAt[0], this.doubtFrom[0], before, this.doubt.latest);
	}

	/** A sign of a restart: noticed at `t`, frames having stopped at `from`. True where it is one (more). */
	noticed(sign: RestartSign, t: number, from: number, framesBefore: number, detail: string): boolean {
		if (t - this.openedAt[0] <= openingSeconds) return false;
		const newest = this.place(this.count[0] - 1);
		const isSame = this.count[0] > 0 && t - this.at[newest] <= oneRestartSeconds;
		const place = isSame ? newest : this.place(this.count[0]);
		if (!isSame) {
			this.count[0]++;
			this.from[place] = Math.min(from, t);
			this.seen[place] = 0;
			// Of its counter or clock it is noticed when frames have come already.
			this.resumedAt[place] = sign === 'text' ? Number.NaN : t;
			this.framesBefore[0] = framesBefore;
			this.details.add(detail, t);
		}
		this.at[place] = t;
		this.seen[place] |= 1 << signs.indexOf(sign);
		if (tellsOfSag(detail)) this.seen[place] |= sagBit;
		return true;
	}

	private isBanner(text: string, isCut: boolean): boolean {
		if (!isCut) return text.length >= leastText && this.banner.find(text) >= 0;
		for (let number = this.banner.oldest; number < this.banner.count; number++)
			if (text.endsWith(this.banner.text(number))) return true;
		return false;
	}

	/** Follows the rhythm of a text. Frames since it came last, −1 where it comes regularly. */
	private note(text: string, frames: number): number {
		const number = this.heard.find(text);
		if (number < 0) {
			const place = this.heard.count % rhythms;
			this.heard.add(text, 0);
			this.heardAt[place] = frames;
			this.heardGap[place] = 0;
			this.isRegular[place] = 0;
			return frames;
		}
		const place = number % rhythms;
		const gap = frames - this.heardAt[place];
		const before = this.heardGap[place];
		this.heardAt[place] = frames;
		this.heardGap[place] = gap;
		if (gap > 0 && before > 0) this.isRegular[place] = Math.abs(gap - before) <= alike * before ? 1 : 0;
		return this.isRegular[place] === 1 ? -1 : gap;
	}
}
