import type {ChannelRole} from './layout.ts';

/** Spellings met for each name; matched on whole words of the label, lower case, without digits. */
const spellings: readonly (readonly [name: string, role: ChannelRole, pattern: RegExp])[] = [
	['thumb', 'finger', /^(thumbs?|thmb|tmb|thm|thu|th|t|pollex|daumen|pouce|pulgar|pollice|duim)$/],
	[
		'index',
		'finger',
		/^(index|indx|idx|ind|ix|in|i|pointer|point|fore|forefinger|zeigefinger|zeige|indice|wijsvinger)$/,
	],
	['middle', 'finger', /^(middle|midl|midd|mid|mdl|md|m|long|mittelfinger|mittel|majeur|medio|middelvinger)$/],
	['ring', 'finger', /^(ring|rng|rin|rg|r|ringfinger|annulaire|anular|anulare)$/],
	[
		'little',
		'finger',
		/^(little|lttl|litt|lit|ltl|lt|l|pinky|pinkie|pinkey|pinki|pin|pnk|pky|pk|p|small|baby|kleinerfinger|kleiner|auriculaire|menique|mignolo|pink)$/,
	],
	[
		'stick-x',
		'stick',
		/^(x|jx|sx|lx|rx|joyx|joyxaxis|jsx|stickx|xaxis|axisx|joystickx|thumbstickx|analogx|horizontal|horz|hor|vrx)$/,
	],
	[
		'stick-y',
		'stick',
		/^(y|jy|sy|ly|ry|joyy|joyyaxis|jsy|sticky|yaxis|axisy|joysticky|thumbsticky|analogy|vertical|vert|ver|vry)$/,
	],
	[
		'counter',
		'counter',
		/^(counter|count|cnt|seq|sequence|n|nr|no|num|frame|frames|frameno|packet|pkt|id|sample|samples)$/,
	],
	[
		'clock',
		'clock',
		/^(clock|clk|time|timestamp|ts|ms|millis|millisecond|milliseconds|us|µs|micros|microseconds|uptime|elapsed|sec|secs|seconds)$/,
	],
	[
		'button',
		'button',
		/^(buttons?|btns?|but|b|bt|bn|keys?|click|joyclick|joysw|joybtn|sw|switch|trigger|trig|trg|grab|grip|pinch|press|pressed|menu|calib|calibrate|fire)$/,
	],
];

/** Words that make the whole label a button's, wherever they stand: a button under the thumb is no thumb. */
const buttonWords = /^(buttons?|btns?|keys?|click|sw|switch|trigger|trig|pressed)$/;
const stickWords = /^(sticks?|joysticks?|joy|js|thumbsticks?|analogsticks?)$/;
const leftWords = /^(l|left|lh|lefthand|links|gauche)$/;
const rightWords = /^(r|right|rh|righthand|rechts|droite)$/;

/** Words whose number or letter tells the place of a finger channel, and those that tell the place of any channel. */
const fingerWords = /^(f|fi|fingers?|flex|flexsensors?|bend|pots?|potis?|reels?|digits?|servos?)$/;
const placeWords =
	/^(a|adc|ain|an|analog|analogin|ch|chan|channels?|c|s|sens|sensors?|v|vals?|values?|in|inputs?|pin|gpio|io|col|columns?|d|data|raw|readings?|frame|e)$/;

export type LabelRole = {
	/** Channel name, `''` where the label tells a place only. */
	readonly name: string;
	readonly role: ChannelRole;
	/** 1 for the left hand, 2 for the right, 0 where the label does not say. */
	readonly hand: 0 | 1 | 2;
	/** Number in the label, or -1: the place among the labels of the same `family`. */
	readonly place: number;
	/** What the numbered labels have in common; `''` where the label is a name. */
	readonly family: string;
};

/** Cuts a label into lower-case words; what stands in brackets is a unit. */
export function labelWords(label: string): string[] {
	return label
		.replace(/[[(][^\])]*[\])]?/g, ' ')
		.replace(/([\p{Ll}\d])(\p{Lu})/gu, '$1 $2')
		.toLowerCase()
		.normalize('NFD')
		.replace(/\p{Mn}/gu, '')
		.split(/[^\p{L}\p{N}]+/u)
		.filter(part => part !== '');
}

/** The name and role that a label stands for; undefined for labels that say nothing we know. */
export function matchLabel(label: string): readonly [name: string, role: ChannelRole] | undefined {
	const role = readLabel(label);
	return role === undefined || role.name === '' ? undefined : [role.name, role.role];
}

/** Everything a label says by itself; undefined for labels that say nothing we know. */
export function readLabel(label: string): LabelRole | undefined {
	const all = labelWords(label);
	if (all.length === 0) return undefined;
	let hand: 0 | 1 | 2 = 0;
	let words = all;
	if (all.length > 1) {
		// `left thumb`, `thumb_l`: the hand, unless nothing else is left to go by.
		const marked = all.findIndex(word => leftWords.test(word) || rightWords.test(word));
		if (marked >= 0) {
			const rest = all.filter((word, i) => i !== marked && word !== 'hand' && word !== 'glove');
			if (rest.length > 0 && (nameOf(rest) !== undefined || placeOf(rest) !== undefined)) {
				hand = leftWords.test(all[marked]) ? 1 : 2;
				words = rest;
			}
		}
	} else {
		const whole = /^(left|right|lh|rh)(\p{L}.*)$|^(.*\p{L})(left|right)$/u.exec(all[0]);
		if (whole !== null) {
			const rest = [whole[2] ?? whole[3]];
			if (nameOf(rest) !== undefined || placeOf(rest) !== undefined) {
				hand = /^l/.test(whole[1] ?? whole[4]) ? 1 : 2;
				words = rest;
			}
		}
	}
	const place = placeOf(words);
	if (place !== undefined) return {...place, hand};
	const named = nameOf(words);
	return named === undefined ? undefined : {name: named[0], role: named[1], hand, place: -1, family: ''};
}

/** Labels that tell a place: `f1`, `fingers.0`, `A3`, `sensor b`, `stick.1`. */
function placeOf(words: readonly string[]): Omit<LabelRole, 'hand'> | undefined {
	const match = /^(\p{L}*?)(\d{1,3}|(?<= )\p{L})$/u.exec(words.join(' ').replace(/ (?=\d+$)/, ''));
	if (match === null) return undefined;
	const family = match[1].trim();
	const stem = words[words.length - 1].replace(/\d+$/, '') || (words[words.length - 2] ?? '');
	const word = words.length > 1 && /^\p{L}$/u.test(words[words.length - 1]) ? words[words.length - 2] : stem;
	const place = /\d/.test(match[2]) ? Number(match[2]) : match[2].charCodeAt(0) - 97;
	if (fingerWords.test(word)) return {name: '', role: 'finger', place, family: 'finger'};
	if (stickWords.test(word)) return {name: '', role: 'stick', place, family: 'stick'};
	if (word === '' || placeWords.test(word)) return {name: '', role: 'spare', place, family: family || 'column'};
	return undefined;
}

function nameOf(words: readonly string[]): readonly [name: string, role: ChannelRole] | undefined {
	const bare = words.map(word => word.replace(/\d+$/, '')).filter(word => word !== '');
	if (bare.length === 0) return undefined;
	if (bare.length > 1 && bare.some(word => buttonWords.test(word))) return ['button', 'button'];
	const last = bare[bare.length - 1];
	const candidates = [bare.join(''), (bare[bare.length - 2] ?? '') + last];
	// A letter beside whole words says less than they do.
	const byLength = [last, ...bare.slice(0, -1)].sort((one, other) => Number(other.length > 1) - Number(one.length > 1));
	const axis =
		bare.length > 1 && bare.some(word => stickWords.test(word)) ? bare.find(word => /^[xy]$/.test(word)) : undefined;
	if (axis !== undefined) return [`stick-${axis}`, 'stick'];
	for (const candidate of [...candidates, ...byLength]) {
		for (const [name, role, pattern] of spellings) if (pattern.test(candidate)) return [name, role];
	}
	return undefined;
}

/** Seconds per unit that a clock's label names (`time_us`, `t [ms]`, `seconds`); undefined where it names none. */
export function clockUnitOf(label: string): number | undefined {
	const bracketed = /[[(]\s*([^\])]*?)\s*[\])]/.exec(label)?.[1] ?? '';
	for (const word of [bracketed.toLowerCase(), ...labelWords(label).reverse()]) {
		if (/^(us|µs|μs|usec|micros|microseconds)$/.test(word)) return 1e-6;
		if (/^(ms|msec|millis|millisecond|milliseconds)$/.test(word)) return 0.001;
		if (/^(s|sec|secs|second|seconds)$/.test(word)) return 1;
	}
	return undefined;
}

/** Unit in brackets behind a name (`thumb [mV]`, `index (%)`); `''` where there is none. */
export function unitInName(name: string): string {
	return /[[(]\s*(mV|V|%|°|deg)\s*[\])]\s*$/.exec(name)?.[1] ?? '';
}
