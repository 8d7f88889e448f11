import type {Features} from '../features/features.ts';
import {rewiringCaution} from './cautions.ts';
import {evidenceOf} from './evidence.ts';
import type {Fault} from './fault.ts';
import {figure} from './figures.ts';
import {buttonName, watchedSeconds} from './gates/buttons.ts';
import {chances, ground, unless} from './gates/gate.ts';

/** failure: the button cannot be used, and it can hold the board in a wrong mode. */
export const buttonHeld: Fault<'button-held'> = {
	code: 'button-held',
	status: 'failure',
	scope: 'button',
	listedAfter: 'button-floating',
	sees: 'does not move, or too little',
	title: 'pressed from the start',
	definition: 'Pressed from the first frame on, while the other buttons idle in the opposite state.',
	physics:
		'A button to ground with a pull-up reads 1 released and 0 pressed. A constant 0 is a short; the legs of a four-leg tact switch are joined in pairs, and wired across a joined pair it reads pressed for ever.',
	causes: [
		'A four-leg tact switch wired across a joined pair (turned by 90°): use diagonal legs.',
		'A solder bridge or wire to ground.',
		'Wired to the supply, or with the logic the other way round, while the firmware expects a button to ground.',
		'The key is jammed by its case, or the pin drives an LED or decides how the board starts.',
	],
	measurements: [
		{measure: 'Unplugged: resistance across the switch, released', expect: 'open; under 10 Ω: wrong legs or a bridge'},
		{measure: 'Button released: volts at its pin to ground', expect: 'the full supply, 5 V or 3.3 V'},
		{
			measure: 'Pull its wire off the pin',
			expect: 'the reading turns to released; it stays: bridge at the board or pin mode',
		},
		{measure: 'Press and release, listening', expect: 'clicks and comes back'},
	],
	remedy: [
		'Turn the switch by 90° or use diagonal legs.',
		'Clear the bridge.',
		'Invert the channel in the firmware or wire it to ground.',
		'Move it off pins with a start-up function (ESP32 GPIO0, 2, 5, 12, 15).',
	],
	caution: rewiringCaution,
	ways: [
		{
			name: 'held',
			limits: {
				held: {
					raise: 15,
					must: 15,
					mustNot: null,
					unit: 's from the first frame on',
					because: 'longer than a button is pressed by chance at a start; common practice, no source',
				},
			},
			gates: [
				ground('others', 'another button to compare with', features => features.buttons.length > 1),
				chances('held', watchedOrChanged, 'leave the buttons alone'),
				unless('constant', 'one state from the first frame on', (features, b) =>
					features.buttons[b].edges > 0 ? 'it has changed' : undefined,
				),
				unless('idle', 'others that idle in the opposite state', whyNotHeld),
			],
			sign: (features, b) => {
				const {firstAt, firstState} = features.buttons[b];
				return {
					from: firstAt,
					summary: `${buttonName(features, b)} has read ${firstState} since the first frame; the others idle at ${1 - firstState}.`,
					evidence: evidenceOf({heldSeconds: figure(features.now - firstAt), reads: firstState}),
				};
			},
		},
	],
};

/** A button that has changed was not held from the start: no more seconds are needed to see that. */
function watchedOrChanged(features: Features, b: number): number | undefined {
	return features.buttons[b].edges > 0 ? Number.POSITIVE_INFINITY : watchedSeconds(features, b);
}

/** What speaks against a constant button being pressed; undefined where nothing does. */
function whyNotHeld(features: Features, b: number): string | undefined {
	const {buttons} = features;
	const own = buttons[b].state;
	if (!readsStates(features, b)) return `it has only read ${figure(buttons[b].lowest)}`;
	const others = buttons.filter((other, i) => i !== b && other.state !== -1 && other.idles && readsStates(features, i));
	const opposite = others.filter(({usual}) => usual !== own);
	if (2 * opposite.length <= others.length)
		return `${others.length - opposite.length} of ${others.length} others idle at ${own}`;
	// Where one half reads this and the other half that, and none has changed, either may be the pressed ones: buttons to
	// ground with a pull-up idle high.
	const isTie = opposite.length === others.length + 1 - opposite.length;
	const isWitnessed = !isTie || others.some(({edges}) => edges > 0);
	return isWitnessed || own === 0 ? undefined : 'half of them idle at 0, and none has changed';
}

/** A column in a button's place that nothing names, and that has only read a number which no button here gives, is none. */
function readsStates({buttons}: Features, b: number): boolean {
	const {isNamed, edges, lowest} = buttons[b];
	if (isNamed || edges > 0 || lowest === 0 || lowest === 1) return true;
	return buttons.some(other => other.edges > 0 && (lowest === other.lowest || lowest === other.highest));
}
