import {ChannelRows} from '../../source/features/channel-rows.ts';
import type {DeclaredFingers} from '../../source/features/declared-travel.ts';
import {Features} from '../../source/features/features.ts';
import {LinkFeatures} from '../../source/features/link-features.ts';
import type {Channel} from '../../source/framing/layout.ts';
import type {Timing} from '../../source/stream/source-item.ts';
import {type Drawing, readings} from './draw.ts';

type How = {
	/** Tells two hands apart, by column. */
	readonly handOf?: ((column: number) => 'a' | 'b') | undefined;
	readonly timing?: Timing;
	/** What a sheet says of the fingers. */
	readonly fingers?: DeclaredFingers;
};

/**
 * What is measured of a drawing, without a session: nothing says which channels are proven or open. `handOf` tells two
 * hands apart, by column.
 */
export function featuresOver(
	drawing: Drawing,
	handOf?: (column: number) => 'a' | 'b',
	timing: Timing = 'measured',
): Features {
	const features = featuresOf(drawing, {handOf, timing});
	takeIn(features, drawing);
	return features;
}

/** Those of a drawing's channels, of which nothing has come yet. */
export function featuresOf({channels, fullScale = 1023}: Drawing, {handOf, timing, fingers}: How = {}): Features {
	const named = Object.keys(channels).map(
		(name, index): Channel => ({
			index,
			name,
			role: name.startsWith('stick') ? 'stick' : 'finger',
			...(handOf === undefined ? {} : {hand: handOf(index)}),
		}),
	);
	const layout = {
		framing: 'text',
		separator: ',',
		labelled: false,
		checksum: null,
		unit: null,
		channels: named,
	} as const;
	return new Features(layout, new LinkFeatures(timing ?? 'measured', null, 30), fullScale, fingers);
}

/** Takes in a drawing's frames, or those between two times, seconds, which are whole blocks. */
export function takeIn(features: Features, drawing: Drawing, from = 0, to = drawing.seconds): void {
	const {rate = 100} = drawing;
	let tick = from + ChannelRows.seconds;
	for (const [frame, values] of readings(drawing).entries()) {
		const t = frame / rate;
		if (t < from || t >= to) continue;
		for (; tick <= t; tick += ChannelRows.seconds) features.closeBlock(tick);
		features.takeFrame(t, Float64Array.from(values), 20);
	}
	for (; tick <= to; tick += ChannelRows.seconds) features.closeBlock(tick);
}
