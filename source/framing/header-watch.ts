/**
 * Owns what is known of header lines: names that wait for a frame, and how regularly a header comes again. A header that is
 * repeated like clockwork is left out; one that comes at any other time is what a board prints when it starts again.
 */
export class HeaderWatch {
	/** Header lines that say again what is known. */
	repeated = 0;
	/** Header lines that were told as lines of no frame, and named the columns. */
	naming = 0;
	/** The names of a header that came after the layout was settled; they hold if a frame follows it. */
	pending: readonly string[] | null = null;
	/** Frames in the layout at the latest header, and between it and the one before. */
	private at = 0;
	private gap = 0;

	/** Takes a header among frames, of which so many came in the layout. True where it only says again that columns are called `known`. */
	take(names: readonly string[], known: readonly string[] | null, frames: number): boolean {
		const isKnown = known?.join('\u0000') === names.join('\u0000');
		if (isKnown && this.comesRegularly(frames)) {
			this.repeated++;
			return true;
		}

		this.pending = names;
		return false;
	}

	/** Whether a header that comes again does so at even distances; a board that started again prints its at any time. */
	private comesRegularly(frames: number): boolean {
		const gap = frames - this.at;
		this.at = frames;
		// The first distance has none to be like: people and programs choose round ones, with the header counted or not.
		const isRegular = gap === this.gap || gap % 10 === 0 || (gap + 1) % 10 === 0;
		this.gap = gap;
		return isRegular;
	}
}
