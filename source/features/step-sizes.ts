import {lead, type Run} from './run.ts';
import type {StateBlock} from './state-block.ts';

/** Bins of a quarter octave, from 2⁻¹⁶ of full scale (a 16-bit converter's step) to full scale. */
const octaves = 16;
const perOctave = 4;
const bins = octaves * perOctave + 1;

/** Steps of fewer whole counts have their bins at hand. */
const knownSteps = 256;

/** What counts as a channel's fastest ordinary step (check-values D5.4, dropout). */
const fastShare = 0.99;

/** How far each channel's reading goes from frame to frame, in constant memory: the step that only one in a hundred exceeds. */
export class StepSizes {
	private readonly counts: Int32Array;
	private readonly totals: Int32Array;
	/** Bins of steps of so many whole counts, and the full scale that they are of: they save logarithms. */
	private readonly known = new Uint8Array(knownSteps);
	private readonly knownScale = new Float64Array(1);

	constructor(channels: number, state: StateBlock) {
		this.counts = state.ints(channels * bins);
		this.totals = state.ints(channels);
	}

	/** Takes a block's readings; `fullScale` in counts. */
	take(a: number, run: Run, fullScale: number): void {
		const {readings, count} = run;
		const first = a * bins;
		const {counts, known} = this;
		if (this.knownScale[0] !== fullScale) this.fillKnown(fullScale);
		for (let i = lead; i < lead + count; i++) {
			const step = Math.abs(readings[i] - readings[i - 1]);
			// Most steps are a few whole counts, or none.
			const bin = step < known.length && Number.isInteger(step) ? known[step] : binOf(step, fullScale);
			counts[first + bin]++;
		}
		this.totals[a] += count;
	}

	private fillKnown(fullScale: number): void {
		for (let step = 0; step < knownSteps; step++) this.known[step] = binOf(step, fullScale);
		this.knownScale[0] = fullScale;
	}

	/** The step, counts, that one in a hundred exceeds, to a quarter octave; 0 before any. */
	fastest(a: number, fullScale: number): number {
		let above = (1 - fastShare) * this.totals[a];
		for (let bin = bins - 1; bin > 0; bin--) {
			above -= this.counts[a * bins + bin];
			if (above < 0) return fullScale * 2 ** (bin / perOctave - octaves);
		}
		return 0;
	}

	forget(a: number): void {
		this.counts.fill(0, a * bins, (a + 1) * bins);
		this.totals[a] = 0;
	}
}

function binOf(step: number, fullScale: number): number {
	if (step <= fullScale * 2 ** -octaves) return 0;
	return Math.min(bins - 1, Math.round((Math.log2(step / fullScale) + octaves) * perOctave));
}
