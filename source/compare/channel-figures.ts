import {confirmedEnds} from '../fit/confirmed-ends.ts';
import type {GatheredRun} from '../fit/gather-source.ts';
import type {ChannelRole} from '../framing/layout.ts';

/** What one channel did in one session. Levels and noise in percent of full scale, so that boards compare. */
export type ChannelFigures = {
	readonly name: string;
	readonly role: ChannelRole;
	/** Range without lone glitches; null before any movement. */
	readonly lowPercentFs: number | null;
	readonly highPercentFs: number | null;
	readonly spanPercentFs: number | null;
	/** rms at rest; null where the channel never rested. */
	readonly noisePercentFs: number | null;
	/** Times that the travel turned round: twice per movement there and back. For a button, its presses. */
	readonly reversals: number;
	/** Whether it goes with the other fingers (1), against them (−1), or that is not known (0). */
	readonly direction: -1 | 0 | 1;
	/** Whether it ended as `proven` (check-values D2). */
	readonly isProven: boolean;
	/** Whether it did enough for a finding on it to show again: travelled both ways, or was pressed. */
	readonly hasWorked: boolean;
};

/** Share of the blocks in which a direction must have been the same: net 0.6 is four fifths. */
const steadyShare = 0.6;

/** What every finger, stick axis and button of a session did, in the order of its frame. */
export function channelFigures({snapshot, gathered}: GatheredRun): ChannelFigures[] {
	const {features, channels, along, alongBlocks} = gathered;
	const {scale} = features;
	const ends = confirmedEnds(gathered);
	const figures: ChannelFigures[] = [];
	for (const view of snapshot.channels) {
		const {name, role} = view;
		const isProven = view.state === 'proven';
		if (role === 'button') {
			const presses = view.button?.presses ?? 0;
			figures.push({...untravelled, name, role, reversals: presses, isProven, hasWorked: presses > 0});
			continue;
		}

		const channel = channels.find(each => each.name === name);
		if ((role !== 'finger' && role !== 'stick') || channel === undefined) continue;
		const {place, visits} = channel;
		const {low: lowEnd, high: highEnd} = ends.get(place)!;
		const percent = (level: number | undefined) =>
			level === undefined ? null : (100 * (level - scale.lowOf(place))) / scale.fullScale;
		const low = percent(lowEnd?.level);
		const high = percent(highEnd?.level);
		const noise = features.analog.restNoise(place);
		const reversals = visits.count.low + visits.count.high;
		const isSteady = Math.abs(along[place]) >= steadyShare * alongBlocks[place];
		figures.push({
			name,
			role,
			lowPercentFs: low,
			highPercentFs: high,
			spanPercentFs: low === null || high === null ? null : high - low,
			noisePercentFs: noise === undefined ? null : (100 * noise) / scale.fullScale,
			reversals,
			direction: isSteady ? (Math.sign(along[place]) as -1 | 0 | 1) : 0,
			isProven,
			hasWorked: reversals >= 4,
		});
	}

	return figures;
}

const untravelled = {
	lowPercentFs: null,
	highPercentFs: null,
	spanPercentFs: null,
	noisePercentFs: null,
	direction: 0,
} as const;
