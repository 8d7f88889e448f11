import type {Features} from '../features/features.ts';

/** The second around a moment: frame times and the readings of some channels. */
export type FreezeFrame = {
	readonly times: readonly number[];
	readonly series: readonly {readonly name: string; readonly values: readonly number[]}[];
};

/** Readings kept per channel: a second at any usual rate, thinned beyond. */
const mostReadings = 240;

/** Cuts out the second around `from`, or the newest second where that is no longer held. All channels for `null`. */
export function freeze(features: Features, channel: string | null, from: number): FreezeFrame {
	const {history, layout} = features;
	const columns = layout.channels.filter(candidate =>
		channel === null ? candidate.role === 'finger' || candidate.role === 'stick' : candidate.name === channel,
	);
	const held = history.count > 0 && history.time(history.oldest) <= from - 0.5;
	const start = held || from - 0.5 <= 0 ? from - 0.5 : features.now - 1;
	const first = history.firstAt(start);
	const last = Math.max(first, history.firstAt(start + 1));
	const stride = Math.max(1, Math.ceil((last - first) / mostReadings));
	const times: number[] = [];
	const series = columns.map(({name}) => ({name, values: [] as number[]}));
	for (let frame = first; frame < last; frame += stride) {
		times.push(history.time(frame));
		columns.forEach(({index}, i) => {
			series[i].values.push(history.reading(frame, index));
		});
	}
	return {times, series};
}
