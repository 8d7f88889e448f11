import {Random} from '../../source/simulator/random.ts';
import {diagnoseText} from './diagnose.ts';
import {nothing} from './expectation.ts';
import {caseOf} from './second-model/case.ts';
import {everything, perform, type Routine} from './second-model/families/healthy.ts';
import {eachAlone, fists, rest} from './second-model/gestures.ts';
import type {Take} from './second-model/take.ts';

// The acceptance of settings-stale, on gloves and hands of the second model: with a sheet that is true none in any session;
// an end 12 % of the sheet's span inside, one 7 % outside, a turned direction are found on their finger and on no other; where
// every reading is 0.86 of what the sheet says there is one finding.

export const staleKinds = ['true', 'inside', 'outside', 'direction', 'factor'] as const;
export type StaleKind = (typeof staleKinds)[number];

/** What a case came to: `right`, or what was found instead. */
export type StaleOutcome = {
	readonly kind: StaleKind;
	readonly seed: number;
	readonly isRight: boolean;
	readonly told: string;
};

const insideShare = 0.12;
const outsideShare = 0.07;
const supplyFactor = 0.86;

/** Fists that reach the ends of the travel, as where somebody looks whether the settings still fit. */
const toTheEnds: Routine = plan => {
	rest(plan, 3);
	fists(plan, 6, {depth: [0.97, 1], open: [0, 0.015]});
	eachAlone(plan, 1);
	fists(plan, 3, {depth: [0.97, 1], open: [0, 0.015]});
	rest(plan, 2);
};

type Entry = {min: number; max: number; inverted: boolean};

/** What a sheet that is true says of each finger. */
function trueEntries({glove}: Take): Map<string, Entry> {
	return new Map(
		glove.fingers.map((finger, i) => {
			const {open, span, direction} = glove.reels[i];
			const [one, other] = [open * glove.fullScale, (open + direction * span) * glove.fullScale];
			return [finger, {min: Math.min(one, other), max: Math.max(one, other), inverted: direction < 0}];
		}),
	);
}

/** Makes the sheet wrong in one way; `atMin`: at the lower end. */
function spoil(entry: Entry, kind: StaleKind, atMin: boolean): void {
	const span = entry.max - entry.min;
	const beyond =
		kind === 'inside' ? (span * insideShare) / (1 - insideShare) : (-span * outsideShare) / (1 + outsideShare);
	if (kind === 'direction') entry.inverted = !entry.inverted;
	else if (atMin) entry.min -= beyond;
	else entry.max += beyond;
}

function sheetText(take: Take, entries: ReadonlyMap<string, Entry>): string {
	const channels = take.names.map(name => {
		const entry = entries.get(name);
		if (entry === undefined) return `[[channel]]\nname = "${name}"\n`;
		const {min, max, inverted} = entry;
		return `[[channel]]\nname = "${name}"\nmin = ${Math.round(min)}\nmax = ${Math.round(max)}\ninverted = ${inverted}\n`;
	});
	return `[board]\nfull_scale = ${take.glove.fullScale}\n\n${channels.join('\n')}`;
}

/** Draws one case and judges it. */
export async function staleCase(kind: StaleKind, seed: number): Promise<StaleOutcome> {
	const random = new Random(seed).fork(kind);
	// With a true sheet any session will do; what is wrong shows to a hand that goes to its ends. An end below 0 no sheet gives.
	const isLong = kind === 'true' && seed % 2 === 0;
	const take = perform(random, {open: [0.12, 0.3]}, isLong ? everything : toTheEnds)
		.convert()
		.settle();
	const entries = trueEntries(take);
	const finger = random.pick(take.glove.fingers);
	if (kind === 'factor')
		for (const entry of entries.values()) {
			entry.min /= supplyFactor;
			entry.max /= supplyFactor;
		}
	else if (kind !== 'true') spoil(entries.get(finger)!, kind, random.chance(0.5));
	const {text, declared} = caseOf(take, {declared: {sheet: sheetText(take, entries)}, layout: 'comma'});
	const {findings} = await diagnoseText(text, declared, nothing);
	const told = findings.filter(({code}) => code === 'settings-stale').map(({channel}) => channel ?? 'all');
	const wanted = kind === 'true' ? [] : [kind === 'factor' ? 'all' : finger];
	return {
		kind,
		seed,
		isRight: told.join() === wanted.join(),
		told: `${told.join() || 'none'} for ${wanted.join() || 'none'}`,
	};
}
