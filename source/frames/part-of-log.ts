import type {ReadInfo} from '../session/run-session.ts';
import type {SourceItem} from '../stream/source-item.ts';
import type {FrameTap} from './frame-tap.ts';

/** Times are whole microseconds. */
const slack = 1e-9;

/** Hands on the items of one session of a source that was run before: which items those are, the run's parts tell. */
export class PartOfLog {
	private readonly parts: NonNullable<ReadInfo['sessions']>;
	private readonly chosen: number;
	private readonly tap: FrameTap;
	private readonly onMark: (t: number, mark: string) => void;
	private now = 0;
	private bytes = 0;

	/** @param onMark Gets the source's own marks of that session, at its times. */
	constructor(
		{sessions = [], part = 1}: ReadInfo,
		tap: FrameTap,
		onMark: (t: number, mark: string) => void = () => {},
	) {
		this.onMark = onMark;
		this.parts = sessions;
		this.chosen = part - 1;
		this.tap = tap;
	}

	/** Takes the source's next item; its time becomes that of its session. */
	push(item: SourceItem): void {
		const part = this.parts[this.now];
		if (this.now + 1 < this.parts.length) {
			const isNext =
				'event' in item && item.event === 'session'
					? this.bytes > 0
					: part.endedBy === 'the columns change' && item.t >= part.to - slack;
			if (isNext) {
				this.now++;
				this.bytes = 0;
			}
		}

		if ('bytes' in item) this.bytes += item.bytes.length;
		if (this.now !== this.chosen || ('event' in item && item.event === 'session')) return;
		const start = this.parts[this.now]?.from ?? 0;
		const own = start === 0 ? item : {...item, t: Math.max(0, Math.round((item.t - start) * 1e6) / 1e6)};
		if ('mark' in own) this.onMark(own.t, own.mark);
		else this.tap.push(own);
	}
}
