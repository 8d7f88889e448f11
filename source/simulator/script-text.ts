import {CannotError} from '../cannot-error.ts';
import type {Gesture, Script} from './gesture.ts';
import {fingerNames} from './glove.ts';

/** What a script may say, for help texts. */
export const scriptHelp = [
	'rest 2s',
	'fist 5x',
	'fast fist 10x',
	'each 2x',
	'index 3x',
	'pull index 3x',
	'ruler index 5mm',
	'tap index 12x',
	'sweep 2x',
	'roll 2x',
	'pose 3s',
	'posture 20s',
	'play 20s',
	'stick around 2x',
	'stick sides 2x',
	'stick jitter 3s',
	'press 3x',
	'press button-2 3x',
	'fast press 10x',
	'keep button-1 4s',
] as const;

const tries = `Steps are separated by commas, things done at once by +: ${scriptHelp.join(', ')}.`;

/** Takes the `3x` or `2s` off the end of the words; `amount` is undefined where there is none. */
function takeAmount(words: string[]): {amount: number | undefined; unit: 'x' | 's' | undefined} {
	const match = /^(\d+(?:\.\d+)?)(x|s|ms|m)$/.exec(words[words.length - 1] ?? '');
	if (!match) return {amount: undefined, unit: undefined};
	words.pop();
	const number = Number(match[1]);
	if (match[2] === 'x') return {amount: Math.round(number), unit: 'x'};
	return {amount: number * (match[2] === 'ms' ? 0.001 : match[2] === 'm' ? 60 : 1), unit: 's'};
}

/** What a phrase makes, said with an amount of its unit, or with none; undefined where it names no finger. */
type Phrase = {
	readonly form: RegExp;
	/** What it takes; undefined for either. */
	readonly unit?: 'x' | 's';
	readonly make: (
		words: readonly string[],
		amount: {readonly times: number; readonly seconds: number},
	) => Gesture | undefined;
};

const phrases: readonly Phrase[] = [
	{
		form: /^ruler (\S+) (\d+(?:\.\d+)?)mm$/,
		make: ([, name, mm]) =>
			Number(mm) >= 1 && isFinger(name) ? {kind: 'ruler', finger: name, stepMm: Number(mm)} : undefined,
	},
	{form: /^rest$/, unit: 's', make: (_, {seconds}) => ({kind: 'rest', seconds})},
	{form: /^pose$/, unit: 's', make: (_, {seconds}) => ({kind: 'pose', seconds})},
	{form: /^posture$/, unit: 's', make: (_, {seconds}) => ({kind: 'posture', seconds})},
	{form: /^play$/, unit: 's', make: (_, {seconds}) => ({kind: 'play', seconds})},
	{form: /^stick jitter$/, unit: 's', make: (_, {seconds}) => ({kind: 'stick-jitter', seconds})},
	{
		form: /^keep button-(\d+)$/,
		unit: 's',
		make: ([, button], {seconds}) => ({kind: 'keep-pressed', button: Number(button), seconds}),
	},
	{form: /^fist$/, unit: 'x', make: (_, {times}) => ({kind: 'fist', times})},
	{form: /^fast fist$/, unit: 'x', make: (_, {times}) => ({kind: 'fist', times, hertz: 3})},
	{form: /^each$/, unit: 'x', make: (_, {times}) => ({kind: 'each', times})},
	{form: /^sweep$/, unit: 'x', make: (_, {times}) => ({kind: 'sweep', times})},
	{form: /^roll$/, unit: 'x', make: (_, {times}) => ({kind: 'roll', times})},
	{form: /^stick around$/, unit: 'x', make: (_, {times}) => ({kind: 'stick-around', times})},
	{form: /^stick sides$/, unit: 'x', make: (_, {times}) => ({kind: 'stick-sides', times})},
	{
		form: /^(fast )?press(?: button-(\d+))?$/,
		unit: 'x',
		make: ([, fast, button = '1'], {times}) => ({
			kind: 'press',
			button: Number(button),
			times,
			...(fast ? {hertz: 7} : {}),
		}),
	},
	{
		form: /^(tap|pull) (\S+)$/,
		unit: 'x',
		make: ([, kind, name], {times}) =>
			isFinger(name) ? {kind: kind === 'tap' ? 'tap' : 'pull', finger: name, times} : undefined,
	},
	{
		form: /^(\S+)$/,
		unit: 'x',
		make: ([, name], {times}) => (isFinger(name) ? {kind: 'curl', finger: name, times} : undefined),
	},
];

/** A finger, or a further reel of one. */
function isFinger(name: string): boolean {
	return (fingerNames as readonly string[]).includes(name.replace(/-\d+$/, ''));
}

function parseGesture(text: string): Gesture {
	const words = text.trim().toLowerCase().split(/\s+/);
	const {amount, unit} = takeAmount(words);
	if (amount === 0) throw new CannotError(`--script has "${text.trim()}", which does nothing: write 1x or more.`);
	const said = words.join(' ');
	const much = {times: unit === 'x' ? amount! : 1, seconds: unit === 's' ? amount! : 2};
	for (const phrase of phrases) {
		if (phrase.unit !== undefined && unit !== undefined && unit !== phrase.unit) continue;
		const match = phrase.form.exec(said);
		const gesture = match === null ? undefined : phrase.make(match, much);
		if (gesture !== undefined) return gesture;
	}
	throw new CannotError(`--script does not know "${text.trim()}". ${tries}`);
}

/**
 * Reads a movement script in plain words, e.g. `rest 2s, fist 5x, each 2x, stick around 2x + index 3x, press 3x`.
 *
 * Throws `CannotError` naming the words it does not know.
 */
export function parseScript(text: string): Script {
	const steps = text.split(',').filter(step => step.trim() !== '');
	if (steps.length === 0) throw new CannotError(`--script is empty. ${tries}`);
	return steps.map(step => step.split('+').map(parseGesture));
}
