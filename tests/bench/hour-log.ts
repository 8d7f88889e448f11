import {closeSync, openSync, writeSync} from 'node:fs';

/** Columns of a log: fingers, then a stick, buttons, frame counter and board clock where there is room for them. */
const layouts = {
	5: {fingers: 5, sticks: 0, buttons: 0, counted: false},
	12: {fingers: 5, sticks: 1, buttons: 3, counted: true},
	24: {fingers: 10, sticks: 1, buttons: 10, counted: true},
} as const;

export type Columns = keyof typeof layouts;

/** How a line is written. */
export type LineForm = 'comma' | 'labels' | 'json';

/** Names of the twelve columns. */
const names = ['thumb', 'index', 'middle', 'ring', 'pinky', 'x', 'y', 'b1', 'b2', 'b3', 'n', 'ms'];

export const framesPerSecond = 100;

/**
 * Writes a working glove as a plain log at 100 frames a second: fingers with their own lag and noise, a stick, buttons,
 * counter and board clock in ms. One hour of 12 columns is 360,000 lines. The same file each time.
 */
export function writeHourLog(
	path: string,
	{hours = 1, columns = 12 as Columns, form = 'comma' as LineForm} = {},
): void {
	const file = openSync(path, 'w');
	let block: string[] = [];
	for (const line of gloveLines(hours * 3600 * framesPerSecond, columns)) {
		block.push(inForm(line, form));
		if (block.length === 10_000) {
			writeSync(file, `${block.join('\r\n')}\r\n`);
			block = [];
		}
	}
	if (block.length > 0) writeSync(file, `${block.join('\r\n')}\r\n`);
	closeSync(file);
}

/** The same numbers with a name before each, or as a JSON object. */
function inForm(line: string, form: LineForm): string {
	if (form === 'comma') return line;
	const values = line.split(',');
	return form === 'labels'
		? values.map((value, i) => `${names[i]}:${value}`).join(' ')
		: `{${values.map((value, i) => `"${names[i]}":${value}`).join(',')}}`;
}

/** The lines of such a log, without their ends. */
export function* gloveLines(frames: number, columns: Columns = 12): Generator<string> {
	const {fingers, sticks, buttons, counted} = layouts[columns];
	let state = 20_261_124;
	const uniform = (): number => {
		state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
		return state / 2 ** 32;
	};
	for (let n = 0; n < frames; n++) {
		const t = n / framesPerSecond;
		const values: number[] = [];
		for (let finger = 0; finger < fingers; finger++) {
			const kind = finger % 5;
			values.push(
				Math.round(
					150 +
						23 * kind +
						(560 + 31 * kind) * closing(t - 0.013 * kind - 0.3 * Math.floor(finger / 5)) +
						2.5 * uniform(),
				),
			);
		}
		const turning = t % 60 > 50 ? 1 : 0;
		for (let stick = 0; stick < sticks; stick++) {
			values.push(
				Math.round(511 + 430 * turning * Math.cos(t * 4) + 2 * uniform()),
				Math.round(513 + 430 * turning * Math.sin(t * 4) + 2 * uniform()),
			);
		}
		for (let button = 0; button < buttons; button++) values.push(t % (7 + button) < 0.2 ? 0 : 1);
		if (counted) values.push(n % 65_536, n * 10);
		yield values.join(',');
	}
}

/** How far the hand is closed, 0…1: rests, fists of half a second each way, and a slow sweep, over again every 20 s. */
function closing(t: number): number {
	const phase = ((t % 20) + 20) % 20;
	if (phase < 8) return 0;
	if (phase < 14)
		return minimumJerk(Math.abs(((phase - 8) % 2) - 1) < 0.5 ? 1 - Math.abs(((phase - 8) % 2) - 1) * 2 : 0);
	return minimumJerk(phase < 17 ? (phase - 14) / 3 : (20 - phase) / 3);
}

/** Minimum-jerk profile (Flash and Hogan 1985) of the share of time passed. */
function minimumJerk(share: number): number {
	const u = Math.min(1, Math.max(0, share));
	return u * u * u * (10 - 15 * u + 6 * u * u);
}
