import {type Stage, type StageMeter, stages} from '../session/stage-meter.ts';
import {fixedText} from '../text/number-text.ts';

/** Looks at the clock by which its own cost is worked out. */
const calibrationLooks = 20_000;

/** Adds up the time that a run spends in each stage of the core (`GLOVEBENCH_PROFILE=1`). */
export class StageProfile implements StageMeter {
	private readonly spentMs: Record<Stage, number>;
	private readonly entered: Record<Stage, number>;
	private stage: Stage = 'source';
	private sinceMs: number;
	/** What one look at the clock takes: it lies within the time of the stage that is left. */
	private readonly lookMs: number;

	/** `nowMs` tells milliseconds that never go back. */
	constructor(private readonly nowMs: () => number = () => performance.now()) {
		const zeros = (): Record<Stage, number> => ({source: 0, framing: 0, frames: 0, blocks: 0, checks: 0, findings: 0});
		this.spentMs = zeros();
		this.entered = zeros();
		const startedMs = nowMs();
		for (let i = 0; i < calibrationLooks; i++) nowMs();
		this.lookMs = (nowMs() - startedMs) / (calibrationLooks + 1);
		this.sinceMs = nowMs();
	}

	readonly enter = (stage: Stage): Stage => {
		const before = this.stage;
		const now = this.nowMs();
		this.spentMs[before] += now - this.sinceMs;
		this.entered[before]++;
		this.sinceMs = now;
		this.stage = stage;
		return before;
	};

	/** Nanoseconds that each stage took for each of `frames` frames, the looks at the clock left out; 0 without frames. */
	nanosecondsAFrame(frames: number): Record<Stage, number> {
		this.enter(this.stage);
		const of = (stage: Stage): number =>
			frames === 0 ? 0 : (1e6 * Math.max(0, this.spentMs[stage] - this.entered[stage] * this.lookMs)) / frames;
		return Object.fromEntries(stages.map(stage => [stage, of(stage)])) as Record<Stage, number>;
	}
}

/** The profile as lines for stderr, each ending with a line feed. */
export function profileText(profile: StageProfile, frames: number): string {
	const spent = profile.nanosecondsAFrame(frames);
	const total = stages.reduce((sum, stage) => sum + spent[stage], 0);
	const row = (name: string, nanoseconds: number): string =>
		`  ${name.padEnd(9)}${fixedText(nanoseconds, 0).padStart(7)} ns a frame\n`;
	return `stages of ${frames} frames\n${stages.map(stage => row(stage, spent[stage])).join('')}${row('together', total)}`;
}
