import type {Features} from '../features/features.ts';
import {recentSeconds} from '../features/hand.ts';
import {rewiringCaution} from './cautions.ts';
import type {Fault, Verdict} from './fault.ts';
import {before, figure, percentFs} from './figures.ts';

/** out-of-spec: right at rest, wrong while the neighbour moves. */
export const crosstalk: Fault = {
	code: 'crosstalk',
	status: 'out-of-spec',
	scope: 'analog',
	title: 'pushed by its neighbour',
	definition: 'A still channel of another group is pushed by the channel read just before it.',
	physics:
		"The converter's sampling capacitor has to be recharged from the neighbour's level within the sampling time: 12 µs at a 125 kHz clock, where a 10 kΩ source needs up to 11.7 µs for half a count. A weaker source leaves a rest of the neighbour. A thin common ground does the same to all.",
	causes: [
		'A joint of some kΩ in the wiper wire, or a pot of 100 kΩ.',
		'The converter is read too soon after switching channels, or its clock is set too high.',
		'A common ground or supply wire with resistance: 100 Ω move a 10 kΩ pot by 1 %.',
		'Two wiper wires side by side over a long way.',
	],
	checks: [
		{
			measure: 'Turn only the neighbour; then swap the reading order',
			expect: 'push follows the order: settling; else wiring',
		},
		{measure: 'Unplugged: resistance from input pin to middle lug', expect: 'under 1 Ω'},
		{measure: 'Unplugged: resistance between the outer lugs', expect: '8–12 kΩ (10 kΩ ±20 %)'},
		{measure: "Volts from the pot's ground lug to the board's ground, others moving", expect: 'under 5 mV'},
	],
	remedy: [
		'Read each channel twice and throw the first reading away.',
		'Solder 100 nF from the input to ground at the board.',
		'Mend the joint; give the pots a ground of thicker wire.',
	],
	caution: rewiringCaution,
	thresholds:
		'3 % of full scale is 30 counts at 10 bit: ten times rest noise and more than any settled input shows; 1 % is what 100 Ω of ground wire do. Only between groups (finger to stick), since fingers push each other by anatomy: untasked fingers reach up to two thirds of their own maximum (Zatsiorsky 2000). Settling: 14 pF through up to 100 kΩ (ATmega169P data sheet, same converter).',
	everyTicks: 2,
	detect,
};

/** Between the definition's must (3 % of full scale) and must not (1 %), a little above the geometric mean of 1.7 %. */
const leastPush = 0.022;
const gonePush = 0.01;

/** From this gain on an exact copy is an open pin, unless the channel has gone ways of its own; beyond the other it is one anyway. */
const copyGain = 0.3;
const mostGain = 0.8;

function detect(features: Features, a: number): Verdict {
	const {analog, hand} = features;
	const channels = analog.columns.length;
	const isFinger = hand.fingers.includes(a);
	let judged = false;
	// Scanned before it, or after it; the scan goes round.
	for (let way = -1; way <= 1; way += 2) {
		const neighbour = (a + channels + way) % channels;
		if (neighbour === a || hand.fingers.includes(neighbour) === isFinger) continue;
		const verdict = pushedBy(features, a, neighbour);
		if (verdict !== undefined && verdict !== 'gone') return verdict;
		if (verdict === 'gone') judged = true;
	}
	return judged ? 'gone' : undefined;
}

function pushedBy(features: Features, a: number, source: number): Verdict {
	const {analog, hand} = features;
	const {recent} = hand;
	const full = analog.scale.fullScale;
	const since = before(features, 6);
	const reach = recent.range(source);
	// The turns must lie in the window that is compared: one sway of the neighbour resembles any slow movement.
	if (reach < 0.2 * full || analog.trips.turnsSince(source, before(features, recentSeconds)) < 3) return undefined;
	const {gain, residual} = recent.copy(source, a);
	const push = Math.abs(gain) * reach;
	// The channel has its own errand: nothing can be said about leaks now.
	if (recent.travel(a) > push + 0.04 * full) return undefined;
	if (push < gonePush * full) return 'gone';
	const likeness = Math.abs(recent.correlation(source, a));
	if (
		push < leastPush * full ||
		likeness < 0.85 ||
		(Math.abs(gain) >= copyGain && !hasOwnTravel(features, a, source)) ||
		Math.abs(gain) > mostGain ||
		residual > 0.012 * full
	)
		return undefined;
	return {
		from: since,
		confidence: Math.min(0.95, likeness),
		summary: `${features.analogName(a)} is pushed by ${percentFs(features, push)} % FS when ${features.analogName(source)} moves by ${percentFs(features, reach)} %.`,
		evidence: {
			pushedBy: features.analogName(source),
			pushPercentFs: percentFs(features, push),
			gain: figure(gain),
			correlation: figure(likeness),
		},
	};
}

/** Whether a channel has gone farther than any push of its neighbour could take it: it is connected. */
function hasOwnTravel(features: Features, a: number, source: number): boolean {
	const {ends, scale} = features.analog;
	return ends.span(a) >= ends.span(source) * mostGain + 0.1 * scale.fullScale;
}
