import type {Features} from '../features/features.ts';
import {fittingRate} from '../features/link/fitting-rate.ts';
import {overvoltageCaution, rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Sign} from './fault.ts';
import {figure, inPercent} from './figures.ts';
import {atLeast, atMost, chances, ground, type Limit, unless} from './gates/gate.ts';
import {listen} from './gates/link.ts';

const bytes: Limit = {
	raise: 20,
	must: null,
	mustNot: null,
	unit: 'bytes in a second',
	because: 'a fifth of fewer is three odd bytes, which a glitch when the plug goes in brings as well',
};

const framesHeard: Limit = {
	raise: 2,
	must: null,
	mustNot: null,
	unit: 'frames in the same second',
	because: 'at the wrong rate no line is a frame, but for a chance one or the last ones before the rate changed',
};

/** Packets of binary numbers are no text either, but they are frames. */
const isText = ground(
	'text',
	'a stream that is not of binary packets',
	({layout}) => layout.framing === 'text' || layout.framing === 'json',
);

/** failure: nothing can be read. */
export const wrongBaud: Fault<'wrong-baud'> = {
	code: 'wrong-baud',
	status: 'failure',
	scope: 'link',
	listedAfter: 'button-held',
	sees: 'the link',
	title: 'the bytes are not text',
	definition: 'What arrives is not text: the two ends run at different rates, or something else is sending.',
	physics:
		'A receiver samples each bit at its own pace. Off by more than about 4.5 % over ten bits it takes bits for their neighbours, and bytes above 0x7F, zeros and framing garbage come out, with no line ends.',
	causes: [
		'--baud differs from the rate set in the firmware.',
		'The board runs from another clock than the firmware was built for (8 instead of 16 MHz: half the rate; an internal oscillator: some percent off).',
		'The device sends a binary format, or it is another device.',
		'The signal is inverted (RS-232 levels on a plain serial pin), or a ground wire is missing.',
	],
	measurements: [
		{measure: 'Serial.begin(…) in the firmware beside --baud', expect: 'the same number; usual are 115200 and 9600'},
		{measure: 'Try half and double the rate', expect: 'text at one of them: the clock is not what the firmware thinks'},
		{
			measure: "Volts at the board's TX to ground, line idle",
			expect: 'the supply, 5 V or 3.3 V; 0 V or negative: inverted',
		},
		{measure: 'Unplugged: resistance between the two grounds', expect: 'under 1 Ω'},
	],
	remedy: [
		'Give the right --baud, or correct the firmware.',
		'Build the firmware for the clock on the board.',
		'Prefer 250000 or 500000 on a 16 MHz board: both are exact; 115200 is off by 2.1–3.5 %.',
	],
	caution: `${overvoltageCaution} ${rewiringCaution}`,
	ways: [
		{
			name: 'junk',
			limits: {
				bytes,
				share: {
					raise: 20,
					clear: 5,
					must: 20,
					mustNot: 1,
					unit: '% of the bytes of a second are no text',
					because:
						'text has next to no bytes outside printable ASCII, random bytes about 60 %; UTF-16 and padding zeros are no junk. Raised at the definition: a line with a few broken bytes is broken frames',
				},
				lasts: {
					raise: 1,
					clear: 0,
					must: 1,
					mustNot: null,
					unit: 'seconds of junk',
					because:
						"the definition's second; the start-up text of a boot loader at another rate is over in a tenth of one (300 bytes at 74 880 baud take 40 ms)",
				},
				framesHeard,
			},
			gates: [
				isText,
				chances('bytes', bytesHeard, listen),
				atLeast('share', share),
				atLeast('lasts', ({link}) => (Number.isNaN(link.junk.from[0]) ? 0 : link.junk.to[0] - link.junk.from[0])),
				atMost('framesHeard', frames),
				unless('lately', 'junk now', ({link, now}) =>
					link.junk.to[0] < now - 1 ? 'none in the last second' : undefined,
				),
			],
			sign: features => {
				const {link} = features;
				const percent = figure(share(features) ?? 0);
				return {
					from: link.junk.from[0],
					seenAt: link.junk.to[0],
					summary: `${percent} % of the bytes are no text: the line runs at another speed${likely(features, ', most likely ')}.`,
					...whatFits(features, percent),
				};
			},
		},
		{
			name: 'printable junk',
			limits: {
				heard: {
					raise: 200,
					must: null,
					mustNot: null,
					unit: 'bytes',
					because: 'ten lines of readings, or a few sentences: enough to tell digits and words from neither',
				},
				since: {
					raise: 2,
					must: null,
					mustNot: null,
					unit: 'seconds of bytes without one frame',
					because: 'start-up text is over by then (1–2 s, common practice, no source)',
				},
				few: {
					raise: 1,
					must: null,
					mustNot: 1,
					unit: '% of the bytes of a second are no text',
					because:
						'at half or twice the rate most bytes come out printable by chance, but never all; text with fewer odd ones is text by definition',
				},
				framesHeard: {...framesHeard, raise: 0, unit: 'frames ever'},
			},
			gates: [
				isText,
				chances('heard', ({link}) => link.junk.bytes.length, listen),
				atLeast('since', ({link, now}) => (link.bytes > 0 ? now - link.firstByteAt : 0)),
				atMost('framesHeard', ({link}) => link.frames),
				atLeast('few', share),
				unless('readable', 'bytes that are neither mostly digits nor mostly letters', ({link}) =>
					link.junk.isNeitherFramesNorProse ? undefined : 'text of some kind',
				),
			],
			sign: features => {
				const percent = figure(share(features) ?? 0);
				return {
					from: features.link.firstByteAt,
					seenAt: features.link.lastByteAt,
					summary: `${percent} % of the bytes are no text and there is no reading in the rest: the line runs at another speed${likely(features, ', most likely ')}.`,
					...whatFits(features, percent),
				};
			},
		},
	],
};

function bytesHeard({link}: Features): number {
	return link.ticks.total(link.ticks.bytes, 1);
}

/** Share of the latest second's bytes that no text contains, per cent; undefined where none came. */
function share(features: Features): number | undefined {
	const {ticks} = features.link;
	const heard = bytesHeard(features);
	return heard === 0 ? undefined : inPercent(ticks.total(ticks.nonText, 1) / heard);
}

function frames({link}: Features): number {
	return link.ticks.total(link.ticks.frames, 1);
}

function likely({link}: Features, words: string): string {
	const rate = fittingRate(link.junk.bytes, link.baud);
	return rate === undefined ? '' : `${words}${rate}`;
}

/** Evidence, and what to try first where the bytes tell the rate. */
function whatFits({link}: Features, nonTextPercent: number): Pick<Sign, 'evidence' | 'advice'> {
	const rate = fittingRate(link.junk.bytes, link.baud);
	return {
		evidence: evidenceOf({
			nonTextPercent,
			...(link.baud === null ? {} : {listeningAt: link.baud}),
			...(rate === undefined ? {} : {likelyBaud: rate}),
		}),
		...(rate === undefined ? {} : {advice: [`Listen at ${rate}: --baud ${rate} — lines of readings appear at once`]}),
	};
}
