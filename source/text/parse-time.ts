import {parseDuration} from './parse-duration.ts';

/**
 * A place in a recording as people write it: `12:30`, `1:02:03.5`, `90s`, `1.5m`, or plain seconds. Seconds, or
 * undefined where it is none of these.
 */
export function parseTime(text: string): number | undefined {
	const trimmed = text.trim();
	const clock = /^(?:(\d+):)?(\d{1,2}):(\d{1,2}(?:\.\d*)?)$/.exec(trimmed);
	if (clock) {
		const [, hours = '0', minutes, seconds] = clock;
		// Without hours minutes may go beyond 59: `75:00`.
		if (Number(seconds) >= 60 || (clock[1] !== undefined && Number(minutes) >= 60)) return undefined;
		return Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
	}

	if (/^\d+(?:\.\d*)?$/.test(trimmed)) return Number(trimmed);
	try {
		return parseDuration(trimmed);
	} catch {
		return undefined;
	}
}
