import type {Output} from '../command-line/command-io.ts';
import {escapeText} from '../text/escape-text.ts';

const cells = 30;
const quietMs = 1000;
const redrawMs = 100;

/**
 * A bar on stderr for work that takes longer than a second; nothing where stderr is no terminal. `show` takes the share
 * that is done, 0…1; `clear` takes the bar away. `nowMs` is a clock.
 */
export class ProgressBar {
	private readonly output: Output;
	private readonly label: string;
	private readonly nowMs: () => number;
	private readonly startedMs: number;
	private drawnMs = Number.NEGATIVE_INFINITY;

	constructor(output: Output, label: string, nowMs: () => number = () => performance.now()) {
		this.output = output;
		this.label = escapeText(label);
		this.nowMs = nowMs;
		this.startedMs = nowMs();
	}

	show(share: number): void {
		const now = this.nowMs();
		if (!this.output.isTTY || now - this.startedMs < quietMs || now - this.drawnMs < redrawMs) return;
		this.drawnMs = now;
		const done = Math.min(1, Math.max(0, share));
		const filled = Math.round(done * cells);
		const percent = String(Math.floor(done * 100)).padStart(3);
		// Erase to the end of the line (ECMA-48 EL) instead of padding: the label's width does not matter.
		this.output.write(`\r${this.label} [${'#'.repeat(filled)}${'.'.repeat(cells - filled)}] ${percent} %\u001b[K`);
	}

	clear(): void {
		if (this.drawnMs > Number.NEGATIVE_INFINITY) this.output.write('\r\u001b[K');
		this.drawnMs = Number.NEGATIVE_INFINITY;
	}
}
