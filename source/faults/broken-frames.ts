import type {Features} from '../features/features.ts';
import {hasDamage, lineDamage, longWindow, shortWindow} from '../features/link/line-damage.ts';
import {servoCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault, Way} from './fault.ts';
import {figure, inPercent, percentOf} from './figures.ts';
import {atLeast, chances, type Gate, ground, type Limit} from './gates/gate.ts';
import {listen} from './gates/link.ts';

/** Frames are known, so that a line can be a damaged one. */
const knowsFrames: Gate = ground('frames', 'frames of a known layout', ({layout}) => layout.channels.length > 0);

const share: Limit = {
	raise: 2,
	clear: 0.1,
	must: 2,
	mustNot: 0.1,
	unit: '% of the lines are damaged',
	because:
		'one line in fifty is seen in any use; a sound USB or serial link loses no bytes, so a line in a thousand (opening, a pause) must pass',
};

const timesChance: Limit = {
	raise: 1,
	clear: 0,
	must: null,
	mustNot: null,
	unit: 'times what chance may bring on a sound link',
	because:
		'on a link that damages 0.15 % of its lines so many come together once in a hundred thousand looks (Poisson): a false one in a hundred hours',
};

const fewLines: Limit = {
	raise: 50,
	must: null,
	mustNot: null,
	unit: 'lines',
	because: 'a heavy fault shows in half a second of them; what chance may bring is asked as well',
};

const manyLines: Limit = {
	raise: 500,
	must: null,
	mustNot: null,
	unit: 'lines',
	because:
		'at one in fifty ten of them are damaged; that fewer than four are, which prove nothing, happens once in a hundred times',
};

function sharePercent(features: Features, windowSeconds: number): number | undefined {
	const {damaged, lines} = lineDamage(features, windowSeconds);
	return lines === 0 ? undefined : inPercent(damaged / lines);
}

/** Lines damaged within so many seconds; after `lines` of them it is judged. */
function within(name: string, windowSeconds: number, lines: Limit, least: Limit): Way {
	return {
		name,
		limits: {lines, share: least, timesChance},
		gates: [
			knowsFrames,
			chances('lines', ({link}) => link.frames + link.badLines, listen),
			atLeast(
				'share',
				features => sharePercent(features, windowSeconds),
				(features, _place, raise) =>
					hasDamage(features, windowSeconds) && (sharePercent(features, windowSeconds) ?? 0) >= raise,
			),
			atLeast('timesChance', features => lineDamage(features, windowSeconds).timesChance),
		],
		sign: features => {
			const {damaged, lines: all, eaten, from, to} = lineDamage(features, windowSeconds);
			const {framing} = features.layout;
			return {
				from,
				seenAt: to,
				summary: `${damaged} of ${all} ${framing === 'text' || framing === 'json' ? 'lines' : 'packets'} were damaged (${percentOf(damaged / all)} %).`,
				evidence: evidenceOf({
					damaged,
					lines: all,
					sharePercent: figure(inPercent(damaged / all)),
					...(eaten > 0 ? {linesWithALostDigit: eaten} : {}),
				}),
			};
		},
	};
}

/** out-of-spec: most frames come through, some are lost or, worse, wrong. */
export const brokenFrames: Fault<'broken-frames'> = {
	code: 'broken-frames',
	status: 'out-of-spec',
	scope: 'link',
	intermittent: true,
	listedAfter: 'wrong-baud',
	sees: 'the link',
	title: 'cut or merged lines',
	definition: 'Lines arrive cut, merged, short, or with digits missing.',
	physics:
		'Bytes are lost where a buffer overflows or a receiver misses a start bit. A lost line end merges two frames; a lost digit turns 512 into 52, which looks like a jump of a sensor.',
	causes: [
		'A receive or send buffer runs full and bytes are eaten: the host is busy, the radio waits, or the firmware sends faster than the line can carry.',
		'Two parts of the firmware print at the same time (interrupt, second task or core).',
		'Two programs have the port open and share the bytes.',
		'A rate at the edge of tolerance (115200 from 16 MHz is off by −3.5 or +2.1 %) together with an inexact host.',
		'A loose USB plug, a long cable, or motor noise.',
	],
	measurements: [
		{measure: 'Close every other program that uses this port', expect: 'bad lines stop: they were shared'},
		{measure: 'Line load on the screen', expect: 'under 70 % of what the baud rate carries'},
		{measure: 'Read the firmware: who prints?', expect: 'one place, one whole line at a time'},
		{measure: 'Another cable and port, motors unplugged', expect: 'no change; better: that one was at fault'},
		{measure: '250000 baud at both ends on a 16 MHz board', expect: 'no bad lines: the rate was marginal'},
	],
	remedy: [
		'Send fewer or shorter lines, or raise the baud rate.',
		'Build each line in one buffer and write it once.',
		'Add a counter and a checksum to see what is lost.',
	],
	caution: servoCaution,
	ways: [
		within('often', shortWindow, fewLines, share),
		within('now and then', longWindow, manyLines, {
			...share,
			raise: 1,
			because: `${share.because}. Over a minute half of that is no chance, and a log at the limit is not missed`,
		}),
	],
};
