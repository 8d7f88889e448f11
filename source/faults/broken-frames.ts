import type {Features} from '../features/features.ts';
import {servoCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure} from './figures.ts';

/** out-of-spec: most frames come through, some are lost or, worse, wrong. */
export const brokenFrames: Fault = {
	code: 'broken-frames',
	status: 'out-of-spec',
	scope: 'link',
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
	checks: [
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
	thresholds:
		'A sound USB or serial link loses no bytes; 0.1 % must pass (one line cut by opening or by a pause), 2 % is one frame in fifty and seen in any use. The first, partial line after opening does not count. Receiver limits: ATmega328P data sheet, USART chapter.',
	everyTicks: 2,
	detect,
};

/** Between the definition's must (2 % of lines) and must not (0.1 %), above the geometric mean of 0.45 %. */
const leastShare = 0.006;

/** What chance may bring on a sound link, once in a hundred thousand looks: Poisson with 0.15 % of the lines. */
const soundShare = 0.0015;
const chance = 1e-5;
const leastBad = 4;

/** Five seconds, twenty, a minute: a heavy fault shows in the first, a light one needs the last. */
const windowsTicks = [20, 80, 240];

function detect(features: Features): Verdict {
	const {ticks} = features.link;
	const {framing} = features.layout;
	if (features.layout.channels.length === 0) return undefined;
	for (const window of windowsTicks) {
		const bad = ticks.total(ticks.badLines, window) + ticks.total(ticks.eaten, window);
		const lines = ticks.total(ticks.frames, window) + ticks.total(ticks.badLines, window);
		if (bad < leastBad || bad < leastShare * lines || poissonTail(bad, soundShare * lines) > chance) continue;
		const eaten = ticks.total(ticks.eaten, window);
		return {
			from: before(features, window / 4),
			confidence: Math.min(0.95, 0.7 + bad / lines),
			summary: `${bad} of ${lines} ${framing === 'text' || framing === 'json' ? 'lines' : 'packets'} were damaged (${figure((100 * bad) / lines)} %).`,
			evidence: {
				damaged: bad,
				lines,
				sharePercent: figure((100 * bad) / lines),
				...(eaten > 0 ? {linesWithALostDigit: eaten} : {}),
			},
		};
	}
	const recent = ticks.total(ticks.badLines, 60) + ticks.total(ticks.eaten, 60);
	return recent === 0 && ticks.total(ticks.frames, 60) >= 100 ? 'gone' : undefined;
}

/** Probability of `count` or more events where `mean` are expected. */
function poissonTail(count: number, mean: number): number {
	let term = Math.exp(-mean);
	let below = 0;
	for (let k = 0; k < count; k++) {
		below += term;
		term *= mean / (k + 1);
	}
	return Math.max(0, 1 - below);
}
