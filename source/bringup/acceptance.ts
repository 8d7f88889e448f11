import {plainName} from '../faults/plain-name.ts';
import type {Limits, Sheet} from '../sheet/sheet.ts';
import {significant} from '../text/round-figures.ts';
import type {Assignment} from './assign-channels.ts';
import type {BringUpFinding} from './bring-up-findings.ts';
import {limitsFor, type ReelFigures} from './reel-figures.ts';
import type {StepRecord} from './step-record.ts';
import type {StickFigures} from './stick-figures.ts';

/** One line of the acceptance table. */
export type Acceptance = {
	/** `thumb`…, `stick`, `button-1`… */
	readonly name: string;
	/** `pass`; `fail` with reasons; `open` where it was not answered or not asked. */
	readonly verdict: 'pass' | 'fail' | 'open';
	/** What is out of its limit, with the limit. */
	readonly reasons: readonly string[];
};

/** The reason of one that the routine was broken off before. */
export const notAsked = 'not asked yet';

/**
 * Limits of a stick: where the definitions of stick-off-centre, stick-no-return and stick-short-throw begin. Percent of
 * full scale, of full scale, and of half scale.
 */
const stickLimits = {maxOffCentrePercent: 12, maxScatterPercent: 6, minReachPercent: 60} as const;

/** A reel against its limits, and against its place: `sentAs` is the name that its column has in the stream. */
export function acceptReel(figures: ReelFigures, sentAs: string, sheet: Sheet | undefined): Acceptance {
	const {name} = figures;
	if (figures.travelPercent === null) return {name, verdict: 'open', reasons: ['nothing answered']};
	const limits: Limits = limitsFor(name, sheet);
	const over = (value: number | null, limit: number, what: string, unit: string): string[] =>
		value !== null && value > limit ? [`${what} ${round(value)}${unit}, at most ${limit}${unit}`] : [];
	const reasons = [
		...(sentAs === name ? [] : [`answers on the channel called ${sentAs}`]),
		...(figures.travelPercent < limits.minTravelPercent
			? [`travel ${round(figures.travelPercent)} %, at least ${limits.minTravelPercent} %`]
			: []),
		...over(figures.returnErrorPercent, limits.maxReturnErrorPercent, 'return error', ' %'),
		...over(figures.roughnessPercent, limits.maxRoughnessPercent, 'roughness', ' %'),
		...over(figures.dropouts, limits.maxDropouts, 'dropouts', ''),
		...over(figures.noisePercent, limits.maxNoisePercent, 'noise', ' %'),
	];
	if (reasons.length > 0) return {name, verdict: 'fail', reasons};
	if (!figures.isKnown) return {name, verdict: 'open', reasons: ['moved with the hand, never by itself']};
	return {name, verdict: 'pass', reasons};
}

/** The stick against its limits. */
export function acceptStick(stick: StickFigures): Acceptance {
	const {offCentrePercent, scatterPercent, reachPercent, sides} = stick;
	const reasons = [
		...(offCentrePercent !== null && offCentrePercent >= stickLimits.maxOffCentrePercent
			? [`rests ${round(offCentrePercent)} % off the middle, less than ${stickLimits.maxOffCentrePercent} %`]
			: []),
		...(scatterPercent !== null && scatterPercent >= stickLimits.maxScatterPercent
			? [`returns within ${round(scatterPercent)} %, less than ${stickLimits.maxScatterPercent} %`]
			: []),
		...(reachPercent !== null && reachPercent <= stickLimits.minReachPercent
			? [`reaches ${round(reachPercent)} % of half scale, more than ${stickLimits.minReachPercent} %`]
			: []),
	];
	if (reasons.length > 0) return {name: 'stick', verdict: 'fail', reasons};
	if (sides.length < 4 || reachPercent === null)
		return {name: 'stick', verdict: 'open', reasons: ['not all sides answered']};
	return {name: 'stick', verdict: 'pass', reasons};
}

/** A button: pressed and let go twice, in its place; `sentAs` is the name that its column has in the stream. */
export function acceptButton({name, isKnown}: Assignment, sentAs: string, records: readonly StepRecord[]): Acceptance {
	const presses = records.find(({id}) => id === name)?.presses ?? 0;
	if (!isKnown)
		return {
			name,
			verdict: 'open',
			reasons: [presses > 0 ? `${presses} press seen, two asked for` : 'nothing answered'],
		};
	return sentAs === name
		? {name, verdict: 'pass', reasons: []}
		: {name, verdict: 'fail', reasons: [`answers on the channel called ${sentAs}`]};
}

/** What has a finding at failure or out-of-spec does not pass, whatever its figures. */
export function failWhereFound(acceptance: Acceptance, findings: readonly BringUpFinding[]): Acceptance {
	const {name, reasons} = acceptance;
	const isOwn = (channel: string | null) => channel === name || (name === 'stick' && channel?.startsWith('stick-'));
	const found = findings.filter(
		({channel, status}) => isOwn(channel) && (status === 'failure' || status === 'out-of-spec'),
	);
	if (found.length === 0) return acceptance;
	// That of a channel in another's place is said already.
	const codes = new Set(found.map(({code}) => code).filter(code => code !== 'swapped-channels'));
	return {
		name,
		verdict: 'fail',
		reasons: [...reasons, ...[...codes].map(code => `found ${plainName(code)}`)],
	};
}

function round(value: number): number {
	return significant(value, 2);
}
