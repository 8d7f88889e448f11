import {notJudgedText} from '../report/not-judged-text.ts';
import {isCut} from '../session/cut-text.ts';
import type {Session} from '../session/session.ts';
import type {Sheet} from '../sheet/sheet.ts';
import {findBending} from './bending.ts';
import {confirmedEnds} from './confirmed-ends.ts';
import {type CordCurve, fingerSettings} from './finger-settings.ts';
import {judgeScaling} from './firmware-scaling.ts';
import type {FingerSettings, FitResult, Refusal, Smoothing} from './fit-result.ts';
import {followers} from './followers.ts';
import type {GatheredLayout} from './gather.ts';
import {oneEuro} from './one-euro.ts';
import {restsAtRail} from './rail-rest.ts';
import {chooseRow, smoothingTable} from './smoothing.ts';
import {stickSettings} from './stick-settings.ts';

/** Noise that is aimed at, share of the span rms: 6.6 times that, a resting puppet's twitch, is under 1.4 %. */
const targetNoise = 0.002;

/** Moving means at least this many spans a second: a full closing in four seconds. */
const leastSpansPerSecond = 0.25;

/** The speed that is not exceeded for this share of the moving time stands for an ordinary movement's top speed. */
const speedShare = 0.9;

/** Where the hand's speed is not known: a full closing in half a second has a top speed of 1.875 / 0.5 s. */
const usualSpansPerSecond = 3.75;

/**
 * Settings from a finished session and what was gathered of it. Whatever the data does not carry is refused by name,
 * with what to do about it; nothing is made up. `curves`: what a ruler gave of the reel at a column.
 */
export function fitSettings(
	session: Session,
	gathered: GatheredLayout,
	sheet?: Sheet,
	curves?: ReadonlyMap<number, CordCurve>,
): FitResult {
	const {features, channels} = gathered;
	const {scale, layout, link} = features;
	const ranges = confirmedEnds(gathered);
	const declared = declaredFlips(sheet);
	const bendings = findBending(gathered, ranges, declared);
	const firmware = judgeScaling(gathered, ranges);
	// What is computed here mends it.
	const findings = session.findings.filter(({to, code}) => to === null && code !== 'settings-stale');
	const given: FingerSettings[] = [];
	const refused: Refusal[] = [];
	for (const channel of channels) {
		if (channel.role !== 'finger') continue;
		const designed = sheet?.channels.find(({name}) => name === channel.name);
		const settings = fingerSettings(
			gathered,
			channel,
			ranges.get(channel.place)!,
			bendings.get(channel.place)!,
			sheet && {...sheet.reel, ...designed},
			findings,
			firmware,
			curves?.get(channel.column),
		);
		if ('reason' in settings) refused.push(settings);
		else given.push(settings);
	}

	const following = followers(given);
	refused.push(...following);
	const fingers = given.filter(finger => !following.some(({name}) => name === finger.name));

	const stick = features.stick === null ? null : stickSettings(gathered, declared);
	if (stick !== null && 'refused' in stick) refused.push({name: 'stick', reason: stick.refused});
	const duration = gathered.lastAt - gathered.firstAt;
	// Without times a log's rate is what the user said it is, which is good enough for filters.
	const framesPerSecond = gathered.frames > 1 && duration > 0 ? (gathered.frames - 1) / duration : null;
	const smoothing = smoothingOf(gathered, fingers, framesPerSecond);
	if (smoothing === null) {
		const isCutOff = channels.some(
			channel => channel.role === 'finger' && restsAtRail(channel, ranges.get(channel.place)!),
		);
		refused.push({
			name: 'smoothing',
			reason: isCutOff
				? 'The fingers rest at a rail, where their noise is cut off: hold the hand half closed and still for three seconds, then go on.'
				: 'There is no finger with both a range and a rest: hold the hand still for two seconds.',
		});
	}

	return {
		seconds: session.t,
		frames: gathered.frames,
		cut: isCut(session.events),
		notJudged: notJudgedText(session.snapshot()),
		framesPerSecond: link.timing === 'assumed' ? null : framesPerSecond,
		unit: layout.unit,
		fullScale: scale.fullScale,
		railLow: scale.railLow,
		isFullScaleSure: scale.sure,
		firmware,
		fingers,
		stick: stick !== null && !('refused' in stick) ? stick : null,
		smoothing,
		refused,
		findings,
	};
}

function declaredFlips(sheet: Sheet | undefined): Map<string, boolean> {
	const declared = new Map<string, boolean>();
	for (const {name, inverted} of sheet?.channels ?? []) if (inverted !== undefined) declared.set(name, inverted);
	return declared;
}

/** The table for the finger that needs it most, so that one constant serves all. */
function smoothingOf(
	gathered: GatheredLayout,
	fingers: readonly FingerSettings[],
	framesPerSecond: number | null,
): Smoothing | null {
	const resting = fingers.filter(({restNoise}) => restNoise !== null);
	if (framesPerSecond === null || resting.length === 0) return null;
	const noiseOf = (finger: FingerSettings): number => (finger.restNoise ?? 0) / (finger.high - finger.low);
	const worst = resting.reduce((one, other) => (noiseOf(other) > noiseOf(one) ? other : one));
	const channel = gathered.channels.find(({name}) => name === worst.name)!;
	const noise = noiseOf(worst);
	const correlation = channel.rest.correlation ?? 0;
	const table = smoothingTable(100 * noise, correlation, framesPerSecond);
	const spanShare = worst.spanPercentFs / 100;
	const speed = channel.speeds.quantile(speedShare, leastSpansPerSecond * spanShare);
	const spansPerSecond = speed === undefined ? usualSpansPerSecond : speed / spanShare;
	return {
		finger: worst.name,
		noisePercentSpan: 100 * noise,
		correlation,
		framesPerSecond,
		table,
		recommended: chooseRow(table, 100 * targetNoise),
		targetPercentSpan: 100 * targetNoise,
		// Where nothing needs a filter, one that halves the noise is still shown.
		oneEuro: oneEuro(noise, correlation, framesPerSecond, Math.min(targetNoise, noise / 2), spansPerSecond),
		spansPerSecond,
	};
}
