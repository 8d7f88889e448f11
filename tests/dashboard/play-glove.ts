import type {SourceItem} from '../../source/stream/source-item.ts';

/** A small glove of our own for the dashboard's tests: cheap, the same every time, and told what to do per finger. */
export type PlayGlove = {
	readonly seconds: number;
	/** Frames a second. Default 100. */
	readonly rate?: number;
	/** Counts the finger shows at a time; `noise` gives −1…1. Missing fingers do whole-hand cycles of 2 s. */
	readonly finger?: (index: number, t: number, noise: () => number) => number | undefined;
	readonly stick?: (t: number) => readonly [number, number];
	readonly buttons?: (t: number) => readonly number[];
};

const encoder = new TextEncoder();

/** The lines such a glove sends, one item per line. */
export function playGlove(glove: PlayGlove): SourceItem[] {
	const rate = glove.rate ?? 100;
	const noise = makeNoise();
	return Array.from({length: Math.round(glove.seconds * rate)}, (_, frame) => {
		const t = frame / rate;
		const fingers = [0, 1, 2, 3, 4].map(index => {
			const told = glove.finger?.(index, t, noise);
			return told ?? handCycle(index, t) + 1.5 * noise();
		});
		const [x, y] = glove.stick?.(t) ?? [510, 515];
		const buttons = glove.buttons?.(t) ?? [0, 0];
		const values = [...fingers, x + noise(), y + noise()].map(value => Math.max(0, Math.min(1023, Math.round(value))));
		return {t, bytes: encoder.encode(`${[...values, ...buttons].join(',')}\r\n`)};
	});
}

/** A hand that opens and closes every 2.5 s, each finger in its own way, and rests in the second half of every ten. */
export function handCycle(index: number, t: number): number {
	const own = (t % 10) - 0.02 * index;
	const bent = own > 0 && own < 5 ? ((1 - Math.cos((2 * Math.PI * own) / 2.5)) / 2) ** (1 + 0.2 * index) : 0;
	const top = [700, 880, 900, 870, 820][index];
	return 130 + 10 * index + bent * (top - 130);
}

/** Numbers −1…1 that are the same every time (a linear congruential generator with Knuth's MMIX constants). */
export function makeNoise(seed = 1n): () => number {
	let state = seed;
	return () => {
		state = (state * 6364136223846793005n + 1442695040888963407n) & 0xffff_ffff_ffff_ffffn;
		return Number(state >> 32n) / 2 ** 31 - 1;
	};
}

/** A recording's text with these items. */
export function recordingText(items: readonly SourceItem[], name = 'workshop-glove'): string {
	const decoder = new TextDecoder();
	const lines = [
		JSON.stringify({
			glovebench: 1,
			startedAt: '2026-03-08T14:25:30.000Z',
			source: {kind: 'simulator', name, timing: 'measured'},
			link: {baud: 115200},
			sheet: null,
			note: '',
		}),
		...items.map(item => {
			if ('bytes' in item) return JSON.stringify({t: item.t, rx: decoder.decode(item.bytes)});
			return JSON.stringify(item);
		}),
	];
	return `${lines.join('\n')}\n`;
}

/** A ring finger whose wiper is open from 12 s on, a button pressed now and then, a stick led around once. */
export const floatingRing: PlayGlove = {
	seconds: 40,
	finger: (index, t, noise) => (index === 3 && t >= 12 ? 480 + 60 * noise() : undefined),
	stick: t => {
		if (t < 4 || t > 8) return [510, 515];
		const angle = (t - 4) * Math.PI;
		return [
			510 + 470 * Math.cos(angle) * Math.min(1, (t - 4) * 4),
			515 + 470 * Math.sin(angle) * Math.min(1, (t - 4) * 4),
		];
	},
	buttons: t => [t % 3 > 2.8 ? 1 : 0, t > 6 && t < 6.5 ? 1 : 0],
};
