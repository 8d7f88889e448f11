import {itemAt} from '../item-at.ts';
import type {Glyphs} from '../screen/look.ts';
import type {Piece, Tone} from '../screen/rows.ts';
import type {ChannelView} from '../session/snapshot.ts';

/** What a bar shows; all in counts. NaN or null for what is not known yet. */
export type BarReading = {
	readonly now: number;
	readonly seenLow: number | null;
	readonly seenHigh: number | null;
	readonly usableLow: number | null;
	readonly usableHigh: number | null;
	/** The ends of the bar. */
	readonly scaleLow: number;
	readonly scaleHigh: number;
};

/** Full scales met in the trade (8, 10, 12, 14 and 16 bit), to draw a channel whose own isn't known yet. */
const commonFullScales = [1, 255, 1023, 4095, 16_383, 65_535];

/** The counts at the ends of a channel's bar: 0 and its full scale, or what fits the readings seen. */
export function barScale(channel: Pick<ChannelView, 'fullScale' | 'min' | 'max'>): {low: number; high: number} {
	const low = Number.isFinite(channel.min) ? Math.min(0, channel.min) : 0;
	if (channel.fullScale !== null) return {low, high: channel.fullScale};
	const top = Number.isFinite(channel.max) ? channel.max : 1023;
	return {low, high: commonFullScales.find(scale => scale >= top) ?? top};
}

/** What to draw of a channel. */
export function barReading(channel: ChannelView): BarReading {
	const {low, high} = barScale(channel);
	return {
		now: channel.now,
		seenLow: channel.min,
		seenHigh: channel.max,
		usableLow: channel.usableLow,
		usableHigh: channel.usableHigh,
		scaleLow: low,
		scaleHigh: high,
	};
}

/**
 * A channel's reading as a bar of `width` columns. Solid from the low usable end to now, shaded over the rest of what
 * was seen, dots beyond; brackets at the usable ends. Shading outside the brackets is a lone glitch.
 *
 * @example
 * formatBar({now: 512, seenLow: 128, seenHigh: 896, usableLow: 128, usableHigh: 896, scaleLow: 0, scaleHigh: 1024}, 16, ascii);
 * // => '..[#####|====].'
 */
export function formatBar(reading: BarReading, width: number, glyphs: Glyphs): string {
	if (width <= 0) return '';
	const {now, seenLow, seenHigh, usableLow, usableHigh, scaleLow, scaleHigh} = reading;
	const range = scaleHigh - scaleLow || 1;
	/** Place in columns; a reading beyond the scale sticks to its end. */
	const place = (counts: number) => Math.min(width - 1e-6, Math.max(0, ((counts - scaleLow) / range) * width));
	const cell = (counts: number) => Math.floor(place(counts));
	const known = (counts: number | null): counts is number => counts !== null && Number.isFinite(counts);

	const cells: string[] = new Array(width).fill(glyphs.beyond);
	if (known(seenLow) && known(seenHigh)) cells.fill(glyphs.seen, cell(seenLow), cell(seenHigh) + 1);
	if (known(now)) {
		const from = known(usableLow) ? usableLow : known(seenLow) ? seenLow : now;
		const nowCell = cell(now);
		if (now > from) cells.fill(glyphs.full, cell(from), nowCell);
		const eighth = Math.floor((place(now) - nowCell) * 8);
		// An empty cell would hide a reading at its left edge, so even nothing is drawn as one eighth.
		cells[nowCell] = itemAt(glyphs.eighths, Math.max(0, eighth - 1));
	}

	if (known(usableLow) && known(usableHigh) && cell(usableHigh) > cell(usableLow)) {
		cells[cell(usableLow)] = '[';
		cells[cell(usableHigh)] = ']';
	}

	return cells.join('');
}

/** The same bar as pieces: the dots of the scale are dimmer than what was read. */
export function barPieces(reading: BarReading, width: number, glyphs: Glyphs, tone: Tone = 'plain'): Piece[] {
	const pieces: {text: string; tone: Tone}[] = [];
	for (const cell of formatBar(reading, width, glyphs)) {
		const own = cell === glyphs.beyond ? 'faint' : tone;
		const last = pieces.at(-1);
		if (last?.tone === own) last.text += cell;
		else pieces.push({text: cell, tone: own});
	}

	return pieces;
}
