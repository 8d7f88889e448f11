import {ChannelRows} from '../../source/features/channel-rows.ts';
import {Features} from '../../source/features/features.ts';
import {LinkFeatures} from '../../source/features/link-features.ts';
import type {Channel} from '../../source/framing/layout.ts';
import type {Timing} from '../../source/stream/source-item.ts';
import {type Drawing, readings} from './draw.ts';

/**
 * What is measured of a drawing, without a session: nothing says which channels are proven or open. `handOf` tells two
 * hands apart, by column.
 */
export function featuresOver(
	drawing: Drawing,
	handOf?: (column: number) => 'a' | 'b',
	timing: Timing = 'measured',
): Features {
	const {rate = 100, fullScale = 1023} = drawing;
	const channels = Object.keys(drawing.channels).map(
		(name, index): Channel => ({
			index,
			name,
			role: name.startsWith('stick') ? 'stick' : 'finger',
			...(handOf === undefined ? {} : {hand: handOf(index)}),
		}),
	);
	const layout = {framing: 'text', separator: ',', labelled: false, checksum: null, unit: null, channels} as const;
	const features = new Features(layout, new LinkFeatures(timing, null, 30), fullScale);
	let tick = ChannelRows.seconds;
	for (const [frame, values] of readings(drawing).entries()) {
		for (; tick <= frame / rate; tick += ChannelRows.seconds) features.closeBlock(tick);
		features.takeFrame(frame / rate, Float64Array.from(values), 20);
	}
	for (; tick <= drawing.seconds; tick += ChannelRows.seconds) features.closeBlock(tick);
	return features;
}
