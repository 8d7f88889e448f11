import type {Features} from '../features/features.ts';
import {
	fingersAtTenBit,
	fingersBelowZero,
	fingersNearTenBit,
	pinnedAtTenBit,
	restsLikeTenBit,
	tenBit,
	twelveBit,
} from '../features/scale-signs.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Sign} from './fault.ts';
import {figure} from './figures.ts';
import {atLeast, atMost, chances, ground, type Limit, lasting} from './gates/gate.ts';
import {wholeHandCycles, widestSpan} from './gates/small-spans.ts';

/** The part of its time for which a channel is pinned. */
const share: Limit = {
	raise: 0.2,
	must: null,
	mustNot: null,
	unit: 'of its time at exactly 1023',
	because:
		'12 bit limited to 10 lies there for all but a quarter of the scale (check-values M-B); sensors of 10 bit that reach their top lie there for 4–13 % of free use (check-values H-real, firmware that averages)',
};

const watched: Limit = {
	raise: 3,
	must: 3,
	mustNot: null,
	unit: 's watched',
	because: 'single readings may be two numbers run together on the line (check-values M-B)',
};

/** Readings with a unit are no counts. */
const areCounts = ground('counts', 'readings in counts', ({scale}) => !scale.foreign);

/** Full scale was declared, by the user or a sheet. */
const isDeclared = lasting('declared', 'a declared full scale', ({scale}) => scale.declared !== null);

const isDeclaredAboveTenBit = lasting(
	'above 10 bit',
	'a declared full scale above 1023',
	({scale}) => (scale.declared ?? 0) > tenBit,
);

function conclude(features: Features, summary: string, shouldBe: number, evidence: Sign['evidence']): Sign {
	return {
		// It was so from the first frame on, and explains whatever else was read into it.
		from: 0,
		summary:
			features.scale.declared === shouldBe
				? `${summary} Full scale is declared as ${shouldBe}: set that in the firmware, too.`
				: `${summary} Full scale should be ${shouldBe}: in the firmware's setting and in the host's.`,
		evidence: evidenceOf({...evidence, shouldBe, set: features.scale.assumed}),
	};
}

/** out-of-spec: every percentage is off until the declaration is put right. */
export const wrongFullScale: Fault<'wrong-full-scale'> = {
	code: 'wrong-full-scale',
	status: 'out-of-spec',
	scope: 'link',
	readsCounts: true,
	listedAfter: 'shared-ceiling',
	sees: 'wrong way, wrong place or wrong scale',
	title: 'declared full scale is wrong',
	definition: 'The full scale that was declared is not the one of the board that sends.',
	physics:
		'A 10 bit converter ends at 1023, a 12 bit one at 4095. Readings above the declared end cannot be; readings that all end at a quarter of it come from a converter two bits shorter.',
	causes: [
		'The sheet or --full-scale names another board family.',
		"The firmware sets another resolution than the board's default, or scales its output.",
		'The glove was rebuilt with another board and the sheet was not.',
	],
	measurements: [
		{measure: 'Highest raw reading with a pot at its upper end', expect: '1023: 10 bit; 4095: 12 bit; 16383: 14 bit'},
		{measure: 'Board family printed on the module, beside the sheet', expect: 'the same'},
		{measure: 'Read the firmware: resolution and scaling of the readings', expect: 'as declared'},
	],
	remedy: [
		'Put the right full_scale into the sheet, or leave --full-scale out and let it be found out.',
		"Set the converter's resolution in the firmware explicitly.",
	],
	ways: [
		{
			name: 'above',
			limits: {
				watched,
				above: {
					raise: 4,
					must: 1,
					mustNot: null,
					unit: 'readings above the declared scale, several in a block',
					because: 'a damaged line or two show single ones; a channel dwells where it is',
				},
			},
			gates: [
				areCounts,
				isDeclared,
				chances('watched', features => features.watchedSeconds, 'leave the glove on for three seconds'),
				atLeast('above', ({scale}) => scale.aboveDeclared),
			],
			sign: features => {
				const {highest, aboveDeclared} = features.scale;
				return conclude(
					features,
					`Readings go up to ${highest}.`,
					highest > twelveBit ? features.scale.fullScale : twelveBit,
					{highest, readingsAbove: aboveDeclared},
				);
			},
		},
		{
			name: 'pinned',
			limits: {
				watched,
				share,
				pinned: {
					raise: 3,
					must: 3,
					mustNot: 1,
					unit: 'channels that lie at exactly 1023 and never above, while no finger reads exactly 0',
					because:
						'12-bit readings limited to 10 bit end there; a clipped pot is one channel, firmware that scales reaches 0 as well',
				},
			},
			gates: [
				areCounts,
				chances('watched', features => features.watchedSeconds, 'leave the glove on for three seconds'),
				atLeast('pinned', features => pinnedAtTenBit(features, share.raise)),
			],
			sign: features => {
				const pinned = pinnedAtTenBit(features, share.raise);
				return conclude(features, `${pinned} channels lie at exactly 1023 counts and never above.`, twelveBit, {
					pinned,
				});
			},
		},
		{
			name: 'below zero',
			limits: {
				watched,
				below: {
					raise: 1,
					must: 1,
					mustNot: 0,
					unit: 'fingers with whole numbers below 0 whose other end is above 0 and within the scale',
					because:
						'a flip computed with too small a number: 1023 − 4095 = −3072; centred sticks and gloves that are signed throughout are no such fingers (check-values M-B)',
				},
			},
			gates: [
				areCounts,
				chances('watched', features => features.watchedSeconds, 'leave the glove on for three seconds'),
				atLeast('below', fingersBelowZero),
			],
			sign: features => {
				const fingers = fingersBelowZero(features);
				return conclude(
					features,
					`${fingers} finger${fingers === 1 ? '' : 's'} read whole numbers below 0: the firmware flips them with too small a number.`,
					twelveBit,
					{fingersBelowZero: fingers},
				);
			},
		},
		{
			name: 'ten bit',
			limits: {
				watched,
				highest: {
					raise: 1023,
					must: 1023,
					mustNot: null,
					unit: 'as the highest reading',
					because: 'a 10-bit converter gives nothing above',
				},
				share,
				pinned: {
					raise: 2,
					must: null,
					mustNot: 3,
					unit: 'fingers at the most that lie at exactly 1023 and never above',
					because: 'three that do are 12 bit limited to 10 (check-values M-B), which has a cure of its own',
				},
				fingers: {
					raise: 3,
					must: 3,
					mustNot: 1,
					unit: 'fingers that reach 1000 (or a stick that rests within 6 % of 511.5 on both axes)',
					because:
						'on 12 bit 1000 is a quarter of the scale: three fingers stopping just there is chance; a stick rests in the middle of its own scale',
				},
			},
			gates: [
				areCounts,
				isDeclaredAboveTenBit,
				chances('watched', features => features.watchedSeconds, 'leave the glove on for three seconds'),
				atMost('highest', ({scale}) => scale.highest),
				atMost('pinned', features => (restsLikeTenBit(features) ? 0 : fingersAtTenBit(features, share.raise))),
				atLeast('fingers', features =>
					restsLikeTenBit(features) ? Number.POSITIVE_INFINITY : fingersNearTenBit(features),
				),
			],
			sign: features => {
				const {highest} = features.scale;
				const rests = restsLikeTenBit(features) ? ' and the stick rests at the middle of 10 bit' : '';
				return conclude(features, `Nothing exceeds ${highest} counts${rests}.`, tenBit, {
					highest,
					fingersAbove1000: fingersNearTenBit(features),
				});
			},
		},
		{
			name: 'small spans',
			limits: {
				cycles: {
					raise: 3,
					must: 3,
					mustNot: null,
					unit: 'whole-hand cycles',
					because: 'check-values D5.4: three closings and three openings',
				},
				spans: {
					raise: 5,
					clear: 8,
					must: 5,
					mustNot: null,
					unit: '% FS at the most on every finger',
					because: 'a question, not a fault: a reel that uses a twentieth of its track, or a scale that is too large',
				},
			},
			gates: [
				areCounts,
				chances('cycles', wholeHandCycles, 'open and close the whole hand'),
				atMost('spans', widestSpan),
			],
			sign: features => ({
				from: features.epochFrom,
				status: 'function-check',
				summary: `Every finger uses at most ${figure(widestSpan(features) ?? 0)} % of full scale: right scale, right wiring?`,
				evidence: evidenceOf({widestSpanPercentFs: figure(widestSpan(features) ?? 0)}),
			}),
		},
	],
};
