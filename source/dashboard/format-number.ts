import {fixedText, measureText, trimmedText} from '../text/number-text.ts';
import {significant} from '../text/round-figures.ts';
/** A number of counts: whole where it is whole or large, else one decimal. `–` for what is not known. */
export function formatCounts(counts: number | null, dash = '–'): string {
	if (counts === null || !Number.isFinite(counts)) return dash;
	return Number.isInteger(counts) || Math.abs(counts) >= 100 ? fixedText(counts, 0) : fixedText(counts, 1);
}

/** rms noise in counts: one decimal below 100. */
export function formatNoise(counts: number | null, dash = '–'): string {
	if (counts === null || !Number.isFinite(counts)) return dash;
	return fixedText(counts, counts < 100 ? 1 : 0);
}

/** A share 0…1 as whole percent. */
export function formatPercent(share: number | null, dash = '–'): string {
	if (share === null || !Number.isFinite(share)) return dash;
	return `${Math.round(share * 100)} %`;
}

/** Milliseconds with as many digits as matter: `0.35 ms`, `8.2 ms`, `120 ms`, `3.4 s`. */
export function formatMilliseconds(ms: number | null, dash = '–'): string {
	if (ms === null || !Number.isFinite(ms)) return dash;
	if (ms >= 10_000) return measureText(ms / 1000, 0, 's');
	if (ms >= 1000) return measureText(ms / 1000, 1, 's');
	if (ms >= 100) return measureText(ms, 0, 'ms');
	return measureText(ms, ms < 1 ? 2 : 1, 'ms');
}

/** Frames per second: whole from 20 on, else one decimal. */
export function formatRate(perSecond: number | null, dash = '–'): string {
	if (perSecond === null || !Number.isFinite(perSecond)) return dash;
	return fixedText(perSecond, perSecond >= 20 ? 0 : 1);
}

/** A place in the stream: `0:07`, `12:03`, `1:02:03`; with `decimals`, `0:07.25`. Times are cut, not rounded. */
export function formatTime(seconds: number | null, decimals = 0, dash = '–'): string {
	if (seconds === null || !Number.isFinite(seconds)) return dash;
	const sign = seconds < 0 ? '-' : '';
	const scale = 10 ** decimals;
	const units = Math.floor(Math.abs(seconds) * scale + 1e-6);
	const whole = Math.floor(units / scale);
	const pad = (value: number) => String(value).padStart(2, '0');
	const hours = Math.floor(whole / 3600);
	const minutes = Math.floor(whole / 60) % 60;
	const clock = hours > 0 ? `${hours}:${pad(minutes)}:${pad(whole % 60)}` : `${minutes}:${pad(whole % 60)}`;
	return sign + clock + (decimals > 0 ? `.${String(units % scale).padStart(decimals, '0')}` : '');
}

/** A length of time in its fitting unit: `250 ms`, `2.5 s`, `40 s`, `5 min`. */
export function formatSpan(seconds: number): string {
	if (seconds < 1) return `${Math.round(seconds * 1000)} ms`;
	if (seconds < 10) return `${trimmedText(seconds, 1)} s`;
	if (seconds < 120) return `${Math.round(seconds)} s`;
	return `${Math.round(seconds / 60)} min`;
}

/** Bytes: `512 B`, `8.2 kB`, `1.4 MB` (powers of ten). */
export function formatBytes(bytes: number): string {
	if (bytes < 1000) return `${Math.round(bytes)} B`;
	if (bytes < 1e6) return measureText(bytes / 1e3, bytes < 1e4 ? 1 : 0, 'kB');
	return measureText(bytes / 1e6, 1, 'MB');
}

/** A value of a finding's evidence: at most four significant digits. */
export function formatEvidence(value: number | string): string {
	return typeof value === 'number' ? String(significant(value, 4)) : value;
}
