import type {Features} from '../features/features.ts';
import type {FrameHistory} from '../features/frame-history.ts';
import type {Session} from '../session/session.ts';

/** Who wants every frame of a session, beyond what its features keep. */
export type FrameObserver = {
	/** A layout begins; its channels are in `features.layout`. */
	begin(features: Features): void;
	/** The frames `from` (included) to `to` (not included) of a history, in order. Valid during the call only. */
	frames(history: FrameHistory, from: number, to: number): void;
	/** A block of frames closed: number `block` of `features.analog.rows`. Comes after its frames. */
	block(features: Features, block: number): void;
};

/**
 * Hands every frame of a session to an observer, once and in order. To be drained a few times a second of stream
 * time: the session's ring holds 8192 frames.
 */
export class FrameFeed {
	private features: Features | null = null;
	private frames = 0;
	private blocks = 0;
	private readonly observer: FrameObserver;

	constructor(observer: FrameObserver) {
		this.observer = observer;
	}

	/** Hands over what came since the last call. */
	drain(session: Session): void {
		if (this.features !== session.features) {
			// What the layout before left behind is still held by its own features.
			if (this.features !== null) this.handOver(this.features);
			this.features = session.features;
			this.frames = 0;
			this.blocks = 0;
			this.observer.begin(session.features);
		}

		this.handOver(session.features);
	}

	private handOver(features: Features): void {
		const {history, analog} = features;
		const from = Math.max(this.frames, history.oldest);
		if (from < history.count) this.observer.frames(history, from, history.count);

		this.frames = history.count;
		// Where an epoch has begun, blocks are counted anew.
		if (analog.rows.count < this.blocks) this.blocks = 0;
		for (let block = Math.max(this.blocks, analog.rows.oldest); block < analog.rows.count; block++) {
			this.observer.block(features, block);
		}

		this.blocks = analog.rows.count;
	}
}
