import {medianOf} from '../math/nth-smallest.ts';
import type {GatheredChannel, GatheredLayout} from './gather.ts';
import {robustRange} from './robust-range.ts';

export type StickAxis = {
	readonly name: string;
	readonly column: number;
	/** Reading at rest. */
	readonly centre: number;
	/** Farthest readings; null where the stick was not pushed there twice. */
	readonly low: number | null;
	readonly high: number | null;
	/** rms scatter of the rest position from release to release, in the unit of the readings. */
	readonly restScatter: number;
	/** Declared by the sheet; null where nothing says it: only bring-up can find it out. */
	readonly flip: boolean | null;
};

export type StickSettings = {
	readonly x: StickAxis;
	readonly y: StickAxis;
	/** Releases that the centre is made from. */
	readonly releases: number;
	/** Radius around the centre that holds 99 of 100 releases with their noise, in the unit of the readings. */
	readonly deadZone: number;
	/** The same as a share of the shorter way from the centre to an end; null without ends. */
	readonly deadZoneShare: number | null;
	readonly confidence: number;
};

/** Fewest releases: two positions tell that the centre comes back at all. */
const leastReleases = 3;

/** A rest within this share of full scale of the middle of all rests is a release; farther off the stick was held. */
const releaseShare = 0.25;

/**
 * Centre, reach and dead zone of the stick, or in a sentence why they cannot be given. Rest positions scatter in two
 * dimensions: with the same σ on both axes 99 % lie within σ·√(−2·ln 0.01) = 3.03 σ (Rayleigh; worked). Half the
 * peak-to-peak noise, 3.3 σ of the noise, is added, so that a stick at rest never leaves the zone.
 */
export function stickSettings(
	gathered: GatheredLayout,
	declared: ReadonlyMap<string, boolean>,
): StickSettings | {readonly refused: string} {
	const {features, channels} = gathered;
	const {stick, analog, scale} = features;
	if (stick === null) return {refused: 'There is no stick-x and stick-y in this stream.'};
	const reach = releaseShare * scale.fullScale;
	const xs = stick.releases('x', reach);
	const ys = stick.releases('y', reach);
	if (xs.length < leastReleases) {
		const seen = xs.length === 0 ? 'not been let go' : `been let go ${xs.length === 1 ? 'once' : 'twice'}`;
		return {
			refused: `The stick has ${seen}: push it to each side and let go, ${leastReleases} times or more, half a second apart.`,
		};
	}

	const centreX = medianOf(xs);
	const centreY = medianOf(ys);
	const scatter = (values: readonly number[], centre: number): number =>
		Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1));
	const scatterX = scatter(xs, centreX);
	const scatterY = scatter(ys, centreY);
	const noise = Math.max(analog.restNoise(stick.x) ?? 0, analog.restNoise(stick.y) ?? 0);
	const sigma = Math.sqrt((scatterX ** 2 + scatterY ** 2) / 2);
	const farthest = Math.max(...xs.map((x, i) => Math.hypot(x - centreX, ys[i] - centreY)));
	const deadZone = Math.max(sigma * Math.sqrt(-2 * Math.log(0.01)), farthest) + 3.3 * noise;
	const axis = (place: number, centre: number, restScatter: number): StickAxis => {
		const channel = channels[place];
		const {low, high} = axisEnds(channel, centre, scale.lowOf(place), scale.highOf(place));
		const {name, column} = channel;
		return {name, column, centre, low, high, restScatter, flip: declared.get(name) ?? null};
	};

	const x = axis(stick.x, centreX, scatterX);
	const y = axis(stick.y, centreY, scatterY);
	const ways = [x, y].flatMap(({low, high, centre}) => [
		...(low === null ? [] : [centre - low]),
		...(high === null ? [] : [high - centre]),
	]);
	return {
		x,
		y,
		releases: xs.length,
		deadZone,
		deadZoneShare: ways.length === 4 ? deadZone / Math.min(...ways) : null,
		confidence: (xs.length + 1) / (xs.length + 2),
	};
}

/** Ends count from a fifth of the way from the centre to the rail: less is no push to that side. */
function axisEnds(channel: GatheredChannel, centre: number, railLow: number, railHigh: number) {
	const range = robustRange(channel.visits, railLow, railHigh);
	const low = range.low?.level;
	const high = range.high?.level;
	return {
		low: low !== undefined && low < centre - 0.2 * (centre - railLow) ? low : null,
		high: high !== undefined && high > centre + 0.2 * (railHigh - centre) ? high : null,
	};
}
