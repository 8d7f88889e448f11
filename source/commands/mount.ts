import process from 'node:process';
import {CannotError} from '../cannot-error.ts';
import {type CommandIo, interruptedStatus} from '../command-line/command-io.ts';
import {parseSteps} from '../mount/find-steps.ts';
import type {Handedness} from '../mount/gesture-words.ts';
import {isWhole, usualEnough} from '../mount/mount-result.ts';
import {loadTyped, parseVector} from '../mount/mount-sheet.ts';
import {mountText} from '../mount/mount-text.ts';
import type {Order} from '../mount/pose-columns.ts';
import type {Direction, Hand, LengthUnit, UpAxis} from '../mount/pose-form.ts';
import {chooseDevice} from '../mount/raw-poses.ts';
import {type PoseLog, readPoseLog} from '../mount/read-pose-log.ts';
import {type MountChoices, type MountInput, solveMount} from '../mount/solve-mount.ts';
import {type Typed, type VerifyResult, verifyOffset} from '../mount/verify.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {loadSheet} from '../sheet/load-sheet.ts';
import {parseSourceSpec} from '../sources/source-spec.ts';
import {asciiText} from '../text/ascii-text.ts';
import {escapeText} from '../text/escape-text.ts';

export type MountOptions = {
	/** The log of the tracker's poses: a file, `-` or `tcp://`. */
	readonly poses: string;
	/** A log of a second tracked thing in the same hand. */
	readonly other?: string;
	/** Which of the things in a log is the tracker. */
	readonly device?: string;
	/** Which of the things in a log is the second one. */
	readonly second?: string;
	readonly hand?: Hand;
	readonly space?: Handedness;
	readonly spaces?: 'one' | 'two';
	readonly quaternion?: Order;
	readonly direction?: Direction;
	readonly unit?: LengthUnit;
	readonly up?: UpAxis;
	readonly steps?: string;
	readonly origin?: string;
	readonly sheet?: string;
	readonly rate?: number;
	/** Good enough: standard deviations in mm and degrees. */
	readonly enoughMm?: number;
	readonly enoughDeg?: number;
	/** An earlier result, or a sheet with one: the log is of the hand after it was typed in. */
	readonly verify?: string;
	/** Seconds to read from a connection. */
	readonly for?: number;
	readonly json?: boolean;
	readonly bell?: boolean;
	readonly fps?: number;
	readonly screenReader?: boolean;
	readonly color?: boolean;
	readonly ascii?: boolean;
	readonly columns?: number;
};

/** Redraws a second, at the most. */
const usualFps = 10;

/** Rows a second of a log without times, unless said. */
const usualRate = 100;

/**
 * `mount POSES [OTHER]`: the fixed offset between a tracker and the hand, with its uncertainty. Status 1 where something is
 * missing, contradicts itself, or is left with `--verify`. Throws `CannotError` for what cannot be read or understood.
 */
export async function mountCommand(options: MountOptions, io: CommandIo): Promise<number> {
	if (options.other !== undefined && options.second !== undefined)
		throw new CannotError('A second log and --second exclude each other: the second thing is in one of them only.');
	if (options.other === '-' && options.poses === '-')
		throw new CannotError('Standard input can be one of the two only: name a file for the other.');
	const typed = options.verify === undefined ? undefined : await loadTyped(options.verify);
	const said = await choicesOf(options);
	// The origin of a hand that is shown right stays on the pivot, and fits in any form: the form is that of before.
	const choices =
		typed === undefined
			? said
			: {
					...said,
					isAnywhere: true,
					order: said.order ?? typed.order,
					direction: said.direction ?? typed.direction ?? 'tracker-to-space',
				};
	return isForScreen(options, io) ? mountLive(options, choices, io) : mountLog(options, choices, typed, io);
}

/** The routine in front of a screen, and what it came to. */
async function mountLive(options: MountOptions, choices: MountChoices, io: CommandIo): Promise<number> {
	const {mount, isInterrupted} = await onScreen(options, choices, io);
	if (mount === undefined && isInterrupted) return interruptedStatus;
	if (mount === undefined)
		throw new CannotError(`${options.poses} told no offset yet: no step of the routine was seen.`);
	io.stdout.write(textFor(options, mount, escapeText(options.poses), null));
	if (isInterrupted) return interruptedStatus;
	return mount.result.verdict === 'pass' ? 0 : 1;
}

/** A log that is there; beside what was `typed` in before, where that is to be verified. */
async function mountLog(
	options: MountOptions,
	choices: MountChoices,
	typed: Typed | undefined,
	io: CommandIo,
): Promise<number> {
	const log = await readLog(options.poses, options, io);
	const input = inputOf(log, options.device);
	const second = await secondInput(options, log, input, io);
	const mount = solveMount(input, second, choices);
	const {result, readAs} = mount;
	const verify = typed !== undefined && isWhole(result) ? verifyOffset(result, typed) : null;
	if (options.json) {
		const {mountJson} = await import('../mount/mount-json.ts');
		const {terminalSafeJson} = await import('../report/check-json.ts');
		io.stdout.write(`${terminalSafeJson(mountJson(result, readAs, log.source, verify), 2)}\n`);
	} else io.stdout.write(textFor(options, mount, escapeText(options.poses), verify));

	return result.verdict === 'pass' && (verify === null || verify.isZero) ? 0 : 1;
}

function textFor(
	{ascii, columns}: MountOptions,
	{result, readAs}: Pick<ReturnType<typeof solveMount>, 'result' | 'readAs'>,
	name: string,
	verify: VerifyResult | null,
): string {
	const text = mountText(result, readAs, name, columns, verify);
	return ascii ? asciiText(text) : text;
}

/** Somebody in front of a screen, and poses that come as they are made. */
function isForScreen({poses, other, second, json, verify}: MountOptions, {stdin, stdout}: CommandIo): boolean {
	if (json || verify !== undefined || other !== undefined || second !== undefined || stdout.isTTY !== true)
		return false;
	const {kind} = parseSourceSpec(poses);
	return kind === 'tcp' ? stdin.isTTY === true : kind === 'stdin' && stdin.isTTY !== true;
}

/** The page that leads through the routine. */
async function onScreen(options: MountOptions, choices: MountChoices, io: CommandIo) {
	const [{openKeys}, {colorDepthOf, wantsLines}, {makeLook, wantsAscii}, {runMountScreen}] = await Promise.all([
		import('../dashboard/open-desk.ts'),
		import('../dashboard/show-desk.ts'),
		import('../screen/look.ts'),
		import('./run-mount-screen.tsx'),
	]);
	const {env} = process;
	const keys = await openKeys(io.stdin);
	keys?.on('error', () => {});
	// Ink draws nothing where this is set.
	if (env.CI) env.CI = 'false';
	try {
		return await runMountScreen(
			options.poses,
			{
				choices,
				device: options.device,
				look: makeLook({
					ascii: wantsAscii(options.ascii === true, env),
					colorDepth: options.color === false ? 1 : colorDepthOf(io.stdout),
				}),
				fps: options.fps ?? usualFps,
				bell: options.bell === true,
				lineWise: wantsLines(options.screenReader, env),
				keys,
			},
			io,
		);
	} finally {
		if (keys !== null && keys !== io.stdin) keys.destroy();
	}
}

async function choicesOf(options: MountOptions): Promise<MountChoices> {
	const mount = options.sheet === undefined ? undefined : (await loadSheet(options.sheet)).mount;
	const [x = 0, y = 0, z = 0] = mount?.originFromPivotMm ?? [];
	return {
		hand: options.hand ?? (mount?.hand as Hand | undefined) ?? 'right',
		handedness: options.space ?? 'right-handed',
		order: options.quaternion,
		direction: options.direction,
		unit: options.unit,
		up: options.up,
		steps: options.steps === undefined ? undefined : parseSteps(options.steps),
		spaces: options.spaces,
		originFromPivot: options.origin === undefined ? [x, y, z] : parseVector(options.origin, '--origin'),
		enough: {mm: options.enoughMm ?? usualEnough.mm, degrees: options.enoughDeg ?? usualEnough.degrees},
		rate: options.rate ?? usualRate,
	};
}

async function readLog(name: string, options: MountOptions, io: CommandIo): Promise<PoseLog> {
	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name, 40)}`);
	try {
		return await readPoseLog(name, {
			stdin: io.stdin,
			signal: io.signal,
			...(options.for !== undefined && {forSeconds: options.for}),
			progress: share => bar.show(share),
		});
	} finally {
		bar.clear();
	}
}

function inputOf({source, read}: PoseLog, device: string | undefined): MountInput {
	return {source: source.name, read, raw: chooseDevice(read, device, source.name)};
}

async function secondInput(
	options: MountOptions,
	log: PoseLog,
	first: MountInput,
	io: CommandIo,
): Promise<MountInput | undefined> {
	if (options.other !== undefined) return inputOf(await readLog(options.other, options, io), undefined);
	if (options.second === undefined) return undefined;
	const raw = chooseDevice(log.read, options.second, log.source.name, '--second');
	if (raw === first.raw)
		throw new CannotError(`--second ${escapeText(options.second, 40)} is the tracker itself: name the other thing.`);
	return {source: log.source.name, read: log.read, raw};
}
