import type {Features} from '../features/features.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure} from './figures.ts';

/** out-of-spec: what arrives is good, but not all of it arrives. */
export const lostFrames: Fault = {
	code: 'lost-frames',
	status: 'out-of-spec',
	scope: 'link',
	title: 'frame counter skips',
	definition: 'The frame counter skips: frames were made and did not arrive.',
	physics:
		'The board counts each frame; missing numbers were lost after the counter: a full send buffer, the radio, or a receive buffer that was not read in time. An 8 bit counter that goes from 250 to 3 has skipped 8.',
	causes: [
		'The send buffer is full and the firmware drops frames.',
		'Radio losses.',
		'The host reads too slowly, or another program takes bytes.',
		'The counter is raised more than once per line sent.',
	],
	checks: [
		{measure: 'Line load on the screen', expect: 'under 70 %'},
		{measure: 'Read the firmware: where the counter is raised', expect: 'once for each line sent'},
		{measure: 'Bad lines beside skips', expect: 'skips with bad lines: bytes lost; without: whole frames dropped'},
		{measure: 'Over USB instead of radio, other programs closed', expect: 'no skip'},
	],
	remedy: [
		'Lower the rate or raise the baud rate.',
		'Move the antenna; shorten the distance.',
		'Count lines, not passes of the loop.',
	],
	thresholds:
		"A sound wired link loses none. 0.5 % is one frame in 200; with 1000 frames seen the 95 % interval of such a rate starts above zero (Wilson 1927). Differences are taken modulo the counter's width.",
	everyTicks: 2,
	detect,
};

/** The definition's 0.5 % by the counter, halved: a sound link skips none. */
const leastSkipped = 0.0025;
const leastCount = 2;

/**
 * Without a counter, gaps must speak for themselves: nearly all intervals at the nominal spacing or at whole multiples
 * of it, and more missing than a busy computer's hiccups would feign.
 */
const leastMissing = 0.012;
const leastGaps = 5;
const leastRegular = 0.75;
const mostIrregular = 0.04;

/** A loop that is late by any time hits a whole multiple (to within a quarter) half of the time: of true losses nearly all do. */
const mostOddGaps = 0.35;
const windowsTicks = [40, 240];

function detect(features: Features): Verdict {
	const counted = features.layout.channels.some(channel => channel.role === 'counter');
	return counted ? byCounter(features) : byGaps(features);
}

function byCounter(features: Features): Verdict {
	const {ticks} = features.link;
	for (const window of windowsTicks) {
		const frames = ticks.total(ticks.frames, window);
		// A damaged line takes its counter with it: that frame was sent and came.
		const lost = ticks.total(ticks.skipped, window) - ticks.total(ticks.badLines, window);
		if (lost < leastCount || lost < leastSkipped * (frames + lost)) continue;
		return {
			from: before(features, window / 4),
			confidence: 0.95,
			summary: `The frame counter skipped ${lost} of ${frames + lost} frames (${figure((100 * lost) / (frames + lost))} %).`,
			evidence: {lost, frames, lostPercent: figure((100 * lost) / (frames + lost))},
		};
	}
	return ticks.total(ticks.skipped, 60) === 0 && ticks.total(ticks.frames, 60) >= 100 ? 'gone' : undefined;
}

function byGaps(features: Features): Verdict {
	const {link} = features;
	const {ticks} = link;
	if (!link.spacingKnown) return undefined;
	// A sender that has slowed down misses nothing: none of its intervals is the nominal one any more.
	for (const recent of [2, 8])
		if (ticks.total(ticks.regular, recent) < 0.5 * ticks.total(ticks.frames, recent)) return undefined;
	for (const window of windowsTicks) {
		const frames = ticks.total(ticks.frames, window);
		const regular = ticks.total(ticks.regular, window);
		const gaps = ticks.total(ticks.gaps, window);
		const missing = ticks.total(ticks.missing, window);
		const irregular = ticks.total(ticks.irregular, window);
		if (frames < 60 || gaps < leastGaps || missing < leastMissing * (frames + missing)) continue;
		if (
			regular < leastRegular * frames ||
			irregular > Math.min(mostIrregular * frames, Math.max(2, mostOddGaps * gaps))
		)
			continue;
		return {
			from: before(features, window / 4),
			confidence: 0.75,
			summary: `${missing} of ${frames + missing} frames are missing: ${gaps} gaps are whole multiples of ${figure(1000 * link.nominal)} ms and nothing came late.`,
			evidence: {
				missing,
				frames,
				gaps,
				lostPercent: figure((100 * missing) / (frames + missing)),
				intervalMs: figure(1000 * link.nominal),
			},
		};
	}
	return ticks.total(ticks.gaps, 60) === 0 && ticks.total(ticks.frames, 60) >= 100 ? 'gone' : undefined;
}
