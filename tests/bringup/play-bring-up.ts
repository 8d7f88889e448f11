import {rowsOf} from '../fit/simulated.ts';
import type {SampleFaults} from '../gloves/sample-script.ts';
import {glovebench, type ProgramOnScreen} from '../screen/program-on-screen.ts';
import {openPseudoPort} from '../sources/pseudo-port.ts';
import {PromptedHand} from './prompted-hand.ts';
import {runItems, sampleSimulation} from './sample-run.ts';

/** Frames per second of the simulated routine. */
const simulatedRate = 100;

/** By the clock on the wall: longer than it takes the screen to ask for the next thing. */
const againSeconds = 2;

const lookEveryMs = 40;

/** Longer than it takes the screen to show what a key came to. */
const answerEveryMs = 400;

/** Longer than a whole routine at an easy pace. */
const portSeconds = 180;

export type PlayOptions = {
	readonly seed: number;
	readonly faults?: SampleFaults;
	/** What the glove sends, by the clock of the program: a whole part of a hundred. */
	readonly framesPerSecond: number;
	/** Of the movements: 1 is the easy pace of the sample. */
	readonly pace: number;
	/** Of the clock, in the program and at the glove alike: whole. */
	readonly clock: number;
	readonly cwd: string;
	/** Options of the command beside the port. */
	readonly args: readonly string[];
	readonly rows?: number;
	/** Called with what is on the screen, at every look. */
	readonly onScreen?: (text: string, program: ProgramOnScreen) => void;
};

export type BringUpPlayed = {
	readonly status: number;
	readonly program: ProgramOnScreen;
	/** Ids of the steps as they were asked for on the screen, and as the routine has them. */
	readonly asked: readonly string[];
	readonly steps: readonly string[];
};

/**
 * Loaded into the program before anything else: its clock for bytes runs `clock` times as fast, so that a hand that moves
 * as much faster seems to move at its usual pace.
 */
export function fasterClock(clock: number): string {
	const source = `const ticks = process.hrtime.bigint; process.hrtime.bigint = () => ticks() * ${clock}n;`;
	return `--import=data:text/javascript,${encodeURIComponent(source)}`;
}

/**
 * The built program guides a hand through the whole routine: a pseudo-terminal is its screen, another its port. The
 * hand reads each prompt on the screen before it moves. Resolves once the program has ended.
 */
export async function playBringUp(options: PlayOptions): Promise<BringUpPlayed> {
	const {seed, faults = {}, framesPerSecond, pace, clock, cwd, args, rows = 24, onScreen} = options;
	const {items} = sampleSimulation(seed, faults);
	const {bringUp} = await runItems(items);
	const stride = Math.round((simulatedRate / framesPerSecond) * pace);
	const taken = rowsOf(items).filter((_, i) => i % stride === 0);
	const hand = new PromptedHand(
		taken,
		simulatedRate / stride,
		bringUp.features.layout.channels,
		bringUp.records,
		againSeconds * framesPerSecond * clock,
	);
	const port = openPseudoPort(portSeconds);
	const program = glovebench(['bringup', port.path, ...args], {
		cwd,
		rows,
		env: clock === 1 ? {} : {NODE_OPTIONS: fasterClock(clock)},
	});
	let startedAt: number | undefined;
	let sent = 0;
	let text = '';
	let lookAt = 0;
	let answerAt = 0;
	const timer = setInterval(() => {
		// Reading the screen takes longer than sending a frame, and would hold it up.
		if (performance.now() >= lookAt) {
			text = program.text;
			lookAt = performance.now() + lookEveryMs;
		}

		// Until the port is open its line discipline would echo.
		if (startedAt === undefined && !/no frame yet|BRING-UP/.test(text)) return;
		startedAt ??= performance.now();
		// Its cords are as they are: what moved is what was asked for.
		if (text.includes('crossed: enter') && performance.now() > answerAt) {
			answerAt = performance.now() + answerEveryMs;
			program.send('\r');
		}

		if (text.includes('All steps are done')) program.send('q');
		const due = ((performance.now() - startedAt) / 1000) * framesPerSecond * clock;
		onScreen?.(text, program);
		for (; sent < due; sent++) port.send(`${hand.next(text).join(',')}\r\n`);
	}, 2);
	const status = await program.exited;
	clearInterval(timer);
	await port.unplug();
	return {status, program, asked: hand.asked, steps: bringUp.steps.map(({id}) => id)};
}
