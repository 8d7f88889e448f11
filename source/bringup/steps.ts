import type {Channel} from '../framing/layout.ts';

/** The sides of a stick in the order in which they are asked for: clockwise from the right. */
export const stickSides = ['right', 'down', 'left', 'up'] as const;

export type StickSide = (typeof stickSides)[number];

/** One thing that is asked for. */
export type Step =
	| {readonly id: string; readonly kind: 'rest' | 'hand' | 'stick-around'}
	/** `channel`: the finger whose reel is pulled, that is bent alone, or the button that is pressed. */
	| {readonly id: string; readonly kind: 'reel' | 'ruler' | 'finger' | 'button'; readonly channel: string}
	| {readonly id: string; readonly kind: 'stick-side'; readonly side: StickSide};

/** How often each thing is asked for. */
export const times = {
	rest: 1,
	reel: 3,
	/** Ways along the ruler, out and back. */
	ruler: 2,
	hand: 5,
	finger: 2,
	'stick-around': 2,
	'stick-side': 1,
	button: 2,
} as const satisfies Record<Step['kind'], number>;

function byNumber(one: string, other: string): number {
	return one.localeCompare(other, 'en', {numeric: true});
}

const anatomy = ['thumb', 'index', 'middle', 'ring', 'little'];

/** Place of a finger on the hand; the second reels of a hand come after all first ones. */
function placeOnHand(name: string): number {
	const [, finger = '', number = '1'] = /^([a-z]+)(?:-(\d+))?$/.exec(name) ?? [];
	return 10 * Number(number) + Math.max(0, anatomy.indexOf(finger));
}

/**
 * The routine for a glove with these channels: what it has not is not asked for. Fingers are asked for as they stand on
 * the hand, whatever the order of the frame, so that a recording means the same under every sheet. `hasRuler`: each cord is
 * also pulled along a ruler.
 */
export function stepsFor(channels: readonly Channel[], hasRuler = false): Step[] {
	const named = (role: Channel['role']) => channels.filter(channel => channel.role === role).map(({name}) => name);
	const fingers = named('finger').sort((one, other) => placeOnHand(one) - placeOnHand(other));
	const hasStick = named('stick').length === 2;
	return [
		{id: 'rest', kind: 'rest'},
		...fingers.map((channel): Step => ({id: `reel ${channel}`, kind: 'reel', channel})),
		...(hasRuler ? fingers.map((channel): Step => ({id: `ruler ${channel}`, kind: 'ruler', channel})) : []),
		...(fingers.length >= 2 ? [{id: 'hand', kind: 'hand'} as const] : []),
		...fingers.map((channel): Step => ({id: `finger ${channel}`, kind: 'finger', channel})),
		...(hasStick
			? [
					{id: 'stick around', kind: 'stick-around'} as const,
					...stickSides.map((side): Step => ({id: `stick ${side}`, kind: 'stick-side', side})),
				]
			: []),
		...named('button')
			.sort(byNumber)
			.map((channel): Step => ({id: channel, kind: 'button', channel})),
	];
}

const ways: Readonly<Record<StickSide, string>> = {
	right: 'right',
	down: 'towards you',
	left: 'left',
	up: 'away from you',
};

/** What is asked for, in one line of at most 76 characters. */
export function promptOf(step: Step): string {
	switch (step.kind) {
		case 'rest':
			return 'Lay the glove down flat and leave it alone for three seconds.';
		case 'reel':
			return `${capital(step.channel)} reel: pull its cord out by hand and let it go, three times.`;
		case 'ruler':
			return `${capital(step.channel)} cord: along the ruler, a second at each mark, out and back, twice.`;
		case 'hand':
			return 'Put the glove on, open hand. Make a fist and open it, five times.';
		case 'finger':
			return `Bend the ${step.channel.startsWith('thumb') ? step.channel : `${step.channel} finger`} alone and stretch it, twice.`;
		case 'stick-around':
			return 'Stick: turn it all the way around along its edge, twice.';
		case 'stick-side':
			return `Stick: push it ${ways[step.side]} and let it go.`;
		case 'button':
			return `${capital(step.channel.replace('-', ' '))}: press it twice.`;
	}
}

function capital(text: string): string {
	return text.charAt(0).toUpperCase() + text.slice(1);
}
