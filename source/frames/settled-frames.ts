import type {LayoutChange} from '../framing/frame-sink.ts';
import type {Layout} from '../framing/layout.ts';
import type {FrameTaker} from './frame-tap.ts';

/** How long the columns of a stream without labels may take to show what they are; its first frames wait for it. */
const settleSeconds = 2;

/** Holds back the first frames of a live stream until it is settled what their columns are; from then on hands all on. */
export class SettledFrames implements FrameTaker {
	private readonly taker: FrameTaker;
	private readonly isDeclared: boolean;
	private now: Layout | undefined;
	private isSettled = false;
	private waiting: {readonly t: number; readonly values: Float64Array; readonly layout: Layout}[] = [];

	/** @param isDeclared Columns that are declared need no time. */
	constructor(taker: FrameTaker, isDeclared: boolean) {
		this.taker = taker;
		this.isDeclared = isDeclared;
	}

	layout(t: number, layout: Layout, change: LayoutChange): void {
		this.now = layout;
		if (this.isSettled) this.taker.layout(t, layout, change);
	}

	frame(t: number, values: Float64Array): void {
		const {now} = this;
		if (now === undefined) return;
		if (!this.isSettled) {
			const first = this.waiting[0]?.t ?? t;
			if (!now.labelled && !this.isDeclared && t - first < settleSeconds) {
				this.waiting.push({t, values: values.slice(), layout: now});
				return;
			}

			this.settle();
		}

		this.taker.frame(t, values);
	}

	/** The stream is over: what waited is handed on. */
	end(): void {
		if (!this.isSettled) this.settle();
	}

	private settle(): void {
		const {now, waiting, taker} = this;
		if (now === undefined) return;
		this.isSettled = true;
		this.waiting = [];
		taker.layout(waiting[0]?.t ?? 0, now, 'found');
		let told = now;
		for (const {t, values, layout} of waiting) {
			if (layout !== told) taker.layout(t, layout, 'found');
			told = layout;
			taker.frame(t, values);
		}

		if (told !== now) taker.layout(0, now, 'found');
	}
}
