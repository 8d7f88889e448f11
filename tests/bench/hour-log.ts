import {closeSync, openSync, writeSync} from 'node:fs';

/**
 * Writes one hour of a working glove as a plain log: 100 frames a second of 12 columns (five fingers with their own lag
 * and noise, stick, three buttons, counter, board clock in ms), 360,000 lines. The same file each time.
 */
export function writeHourLog(path: string): void {
	let state = 20_261_124;
	const uniform = (): number => {
		state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
		return state / 2 ** 32;
	};
	const file = openSync(path, 'w');
	let block: string[] = [];
	for (let n = 0; n < 360_000; n++) {
		const t = n / 100;
		const values: number[] = [];
		for (let finger = 0; finger < 5; finger++) {
			values.push(Math.round(150 + 23 * finger + (560 + 31 * finger) * closing(t - 0.013 * finger) + 2.5 * uniform()));
		}
		const turning = t % 60 > 50 ? 1 : 0;
		values.push(
			Math.round(511 + 430 * turning * Math.cos(t * 4) + 2 * uniform()),
			Math.round(513 + 430 * turning * Math.sin(t * 4) + 2 * uniform()),
		);
		for (let button = 0; button < 3; button++) values.push(t % (7 + button) < 0.2 ? 0 : 1);
		values.push(n % 65_536, n * 10);
		block.push(values.join(','));
		if (block.length === 10_000) {
			writeSync(file, `${block.join('\r\n')}\r\n`);
			block = [];
		}
	}
	closeSync(file);
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
