import {CannotError} from '../cannot-error.ts';
import {fingerNames} from './glove.ts';
import type {Gesture, Script} from './movement.ts';

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

function parseGesture(text: string): Gesture {
	const words = text.trim().toLowerCase().split(/\s+/);
	const {amount, unit} = takeAmount(words);
	if (amount === 0) throw new CannotError(`--script has "${text.trim()}", which does nothing: write 1x or more.`);
	const times = unit === 'x' ? amount! : 1;
	const seconds = unit === 's' ? amount! : 2;
	const ruler = /^ruler (\S+) (\d+(?:\.\d+)?)mm$/.exec(words.join(' '));
	if (ruler && Number(ruler[2]) >= 1 && (fingerNames as readonly string[]).includes(ruler[1].replace(/-\d+$/, '')))
		return {kind: 'ruler', finger: ruler[1], stepMm: Number(ruler[2])};
	const phrase = words.join(' ');
	const finger = (name: string): string | undefined =>
		(fingerNames as readonly string[]).includes(name.replace(/-\d+$/, '')) ? name : undefined;
	if (unit !== 'x') {
		if (phrase === 'rest') return {kind: 'rest', seconds};
		if (phrase === 'pose') return {kind: 'pose', seconds};
		if (phrase === 'posture') return {kind: 'posture', seconds};
		if (phrase === 'play') return {kind: 'play', seconds};
		if (phrase === 'stick jitter') return {kind: 'stick-jitter', seconds};
		const keep = /^keep button-(\d+)$/.exec(phrase);
		if (keep) return {kind: 'keep-pressed', button: Number(keep[1]), seconds};
	}
	if (unit !== 's') {
		if (phrase === 'fist') return {kind: 'fist', times};
		if (phrase === 'fast fist') return {kind: 'fist', times, hertz: 3};
		if (phrase === 'each') return {kind: 'each', times};
		if (phrase === 'sweep') return {kind: 'sweep', times};
		if (phrase === 'roll') return {kind: 'roll', times};
		if (phrase === 'stick around') return {kind: 'stick-around', times};
		if (phrase === 'stick sides') return {kind: 'stick-sides', times};
		const press = /^(fast )?press(?: button-(\d+))?$/.exec(phrase);
		if (press) {
			const pace = press[1] ? {hertz: 7} : {};
			return {kind: 'press', button: Number(press[2] ?? 1), times, ...pace};
		}
		const tapped = words[0] === 'tap' && words.length === 2 ? finger(words[1]) : undefined;
		if (tapped) return {kind: 'tap', finger: tapped, times};
		const pulled = words[0] === 'pull' && words.length === 2 ? finger(words[1]) : undefined;
		if (pulled) return {kind: 'pull', finger: pulled, times};
		const curled = words.length === 1 ? finger(words[0]) : undefined;
		if (curled) return {kind: 'curl', finger: curled, times};
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
