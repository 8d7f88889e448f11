import type {ChannelRole} from './layout.ts';

/** What a label says about its column. */
export type LabelMeaning = {
	/** `spare`: it is known to be something else than a finger, a stick or a button. */
	readonly role: ChannelRole;
	/** The channel's name; for a button and a finger by number, the number is in `ordinal` instead. */
	readonly name: string;
	readonly ordinal?: number;
	/** The label alone is not enough: the values must behave like it (`t`, `n`, `id`). */
	readonly weak?: boolean;
	readonly clockUnitSeconds?: number;
};

/**
 * The trade words for the fingers in common languages, and the short forms that builders write; marks on letters are taken
 * off first. Source: general dictionaries, from memory.
 */
const fingerWords: Readonly<Record<string, readonly string[]>> = {
	thumb: [
		...['thumb', 'thmb', 'thm', 'thb', 'th', 'pollex', 'daumen', 'pouce', 'pulgar', 'pollice', 'polegar', 'duim'],
		...['kciuk', 'tumme', 'tommel', 'tommelfinger', 'peukalo', 'palec'],
	],
	index: [
		...['index', 'indx', 'idx', 'ind', 'ix', 'pointer', 'point', 'fore', 'forefinger', 'zeigefinger', 'zeige'],
		...['indice', 'indicador', 'wijsvinger', 'wskazujacy', 'pekfinger', 'pegefinger', 'etusormi', 'ukazovak'],
	],
	middle: [
		...['middle', 'mid', 'mdl', 'mddl', 'midl', 'md', 'mittelfinger', 'mittel', 'majeur', 'medio', 'corazon'],
		...['middelvinger', 'srodkowy', 'langfinger', 'langefinger', 'keskisormi', 'prostrednik'],
	],
	ring: [
		...['ring', 'rng', 'rg', 'annulaire', 'ringfinger', 'anular', 'anulare', 'ringvinger', 'serdeczny', 'nimeton'],
		...['prstenik'],
	],
	little: [
		...['little', 'ltl', 'lttl', 'lit', 'lil', 'pinky', 'pinkie', 'pinkey', 'pink', 'pnky', 'pnk', 'pky', 'pk'],
		...['small', 'sml', 'auriculaire', 'klein', 'kleiner', 'kleinerfinger', 'kleinfinger', 'menique', 'mignolo'],
		...['mindinho', 'minimo', 'maly', 'lillfinger', 'lillefinger', 'pikkusormi', 'malik'],
	],
};

const fingerLetters: Readonly<Record<string, string>> = {
	t: 'thumb',
	i: 'index',
	m: 'middle',
	r: 'ring',
	l: 'little',
	p: 'little',
};

const fingerNames = ['thumb', 'index', 'middle', 'ring', 'little'];
const groupWords = ['f', 'finger', 'fingers', 'fng', 'flex', 'bend', 'reel', 'reels', 'pot', 'pots', 'curl'];
const stickWords = [
	'stick',
	'joy',
	'joystick',
	'js',
	'j',
	'thumbstick',
	'axis',
	'axes',
	'ax',
	'pad',
	's',
	'st',
	'jstk',
	'vr',
];
const xWords = ['x', 'h', 'hor', 'horz', 'horizontal', 'lr', '0'];
const yWords = ['y', 'vert', 'vertical', 'ud', '1'];
const wholeStick: Readonly<Record<string, string>> = {
	x: 'stick-x',
	y: 'stick-y',
	jx: 'stick-x',
	jy: 'stick-y',
	sx: 'stick-x',
	sy: 'stick-y',
	lx: 'stick-x',
	ly: 'stick-y',
	rx: 'stick-x',
	ry: 'stick-y',
	vx: 'stick-x',
	vy: 'stick-y',
	vrx: 'stick-x',
	vry: 'stick-y',
	joyx: 'stick-x',
	joyy: 'stick-y',
	stickx: 'stick-x',
	sticky: 'stick-y',
	joystickx: 'stick-x',
	joysticky: 'stick-y',
	thumbstickx: 'stick-x',
	thumbsticky: 'stick-y',
	axisx: 'stick-x',
	axisy: 'stick-y',
	xaxis: 'stick-x',
	yaxis: 'stick-y',
	horizontal: 'stick-x',
	vertical: 'stick-y',
	horz: 'stick-x',
	vert: 'stick-y',
};
/**
 * Words that mean a button in any trade. What a button is for (a gesture, a place in a menu, a command) names none: a column
 * of two values is a button whatever its label (`nameChannels`).
 */
const buttonWords = [
	...['button', 'buttons', 'btn', 'btns', 'but', 'bt', 'b', 'key', 'click', 'clk', 'press', 'pressed', 'push', 'pb'],
	...['pushbutton', 'sw', 'switch', 'sel', 'select', 'taste', 'taster', 'knopf', 'schalter', 'bouton', 'boton'],
	...['botao', 'pulsante', 'tasto', 'knop', 'przycisk', 'knapp', 'knap'],
];

/** `joyclick`, `stickbtn`: what a compound word ends in. */
const buttonEnds = /.(?:button|btn|click|switch|press|sw)$/;

/** Columns that are no finger whatever they do: what else a board measures, and what it knows of itself. */
const otherWords = [
	...['temp', 'temperature', 'humidity', 'hum', 'pressure', 'light', 'lux', 'rssi', 'snr', 'fps', 'rate', 'hz', 'load'],
	...['cpu', 'heap', 'free', 'mem', 'err', 'error', 'errors', 'crc', 'checksum', 'chk', 'cs', 'sum', 'xor', 'status'],
	...['state', 'mode', 'version', 'ver', 'pid', 'dt', 'delta', 'roll', 'pitch', 'yaw', 'heading', 'azimuth'],
	...['quat', 'quaternion', 'euler', 'acc', 'accel', 'acceleration', 'gyro', 'gyr', 'mag', 'compass', 'imu', 'angle'],
	...['gx', 'gy', 'gz', 'ax', 'ay', 'az', 'mx', 'my', 'mz', 'qw', 'qx', 'qy', 'qz', 'lat', 'lon', 'alt', 'gps'],
	...['force', 'fsr', 'tip', 'heart', 'pulse', 'vibration', 'motor', 'servo', 'led'],
];
const batteryWords = [
	'battery',
	'batt',
	'bat',
	'vbat',
	'vbatt',
	'batterie',
	'bateria',
	'accu',
	'akku',
	'lipo',
	'soc',
	'charge',
];

const counterWords = [
	'counter',
	'count',
	'cnt',
	'ctr',
	'seq',
	'sequence',
	'frame',
	'frm',
	'frames',
	'packet',
	'pkt',
	'sample',
	'smp',
];
const weakCounterWords = ['n', 'nr', 'no', 'num', 'number', 'id', 'i#', '#'];
const clockUnits: Readonly<Record<string, number>> = {
	ms: 0.001,
	msec: 0.001,
	msecs: 0.001,
	millis: 0.001,
	millisecond: 0.001,
	milliseconds: 0.001,
	us: 1e-6,
	usec: 1e-6,
	micros: 1e-6,
	microsecond: 1e-6,
	microseconds: 1e-6,
	µs: 1e-6,
	μs: 1e-6,
	sec: 1,
	secs: 1,
	seconds: 1,
	second: 1,
};
const clockWords = ['time', 'timestamp', 'ts', 'tms', 'clock', 'uptime', 'elapsed', 'tick', 'ticks', 'stamp'];

/** The words of a label in lower case: `joyX` is joy, x; `fingers.0` is fingers, 0; `btn2` is btn, 2. */
function splitLabel(label: string): string[] {
	return label
		.normalize('NFD')
		.replace(/(?<=[A-Za-z])\p{M}/gu, '')
		.replaceAll('ł', 'l')
		.replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
		.replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, '$1 $2')
		.replace(/(\p{L})(\d)/gu, '$1 $2')
		.replace(/(\d)(\p{L})/gu, '$1 $2')
		.toLowerCase()
		.split(/[^\p{L}\p{N}#]+/u)
		.filter(word => word !== '');
}

/**
 * What a label means, by the usual spellings; undefined for labels that say nothing here. `all` are the labels of the
 * whole line: single letters (`t`, `i`, `m`) are fingers only among their like, and `x`, `y` beside a `z` are no stick.
 */
export function readLabel(label: string, all: readonly string[] = [label]): LabelMeaning | undefined {
	const words = splitLabel(label);
	const numbers = words.filter(word => /^\d+$/.test(word)).map(Number);
	const names = words.filter(word => !/^\d+$/.test(word));
	if (names.length === 0) return undefined;
	const ordinal = numbers[numbers.length - 1];
	const whole = names.join('');
	// Letters from a on are the columns' places.
	if (names.length === 1 && numbers.length === 0 && isAlphabet(whole, all)) return undefined;
	return (
		readClock(whole, names, words) ??
		readBattery(names) ??
		readStick(whole, names, words, all) ??
		readButton(names, ordinal) ??
		readFinger(whole, names, ordinal, all) ??
		readCounter(whole, names) ??
		readOther(whole, names, all)
	);
}

/** Whether a word means a button in any trade. */
function isButtonWord(word: string): boolean {
	return word.length > 1 && (buttonWords.includes(word) || buttonEnds.test(word));
}

function readBattery(names: readonly string[]): LabelMeaning | undefined {
	return names.some(name => batteryWords.includes(name)) ? {role: 'battery', name: 'battery'} : undefined;
}

function readOther(whole: string, names: readonly string[], all: readonly string[]): LabelMeaning | undefined {
	// Among the letters of the Greek alphabet it is no difference.
	if (whole === 'delta' && all.some(label => /^(?:alpha|beta|gamma)$/i.test(label))) return undefined;
	return otherWords.includes(whole) || names.some(name => name.length > 2 && otherWords.includes(name))
		? {role: 'spare', name: 'spare'}
		: undefined;
}

function isAlphabet(letter: string, all: readonly string[]): boolean {
	if (!/^[a-e]$/.test(letter)) return false;
	const letters = all.map(label => label.toLowerCase());
	return ['a', 'b', 'c'].every(other => letters.includes(other));
}

function readClock(whole: string, names: readonly string[], words: readonly string[]): LabelMeaning | undefined {
	const last = names[names.length - 1];
	const clock = {role: 'clock', name: 'clock'} as const;
	if (Object.hasOwn(clockUnits, whole)) return {...clock, clockUnitSeconds: clockUnits[whole]};
	const timeWord = names.find(name => clockWords.includes(name) || name === 't');
	if (timeWord === undefined)
		return whole === 's' && words.length === 1 ? {...clock, weak: true, clockUnitSeconds: 1} : undefined;
	if (names.length > 1 && (Object.hasOwn(clockUnits, last) || last === 's'))
		return {...clock, clockUnitSeconds: last === 's' ? 1 : clockUnits[last]};
	if (timeWord === 't') return undefined;
	if (whole === 'tms') return {...clock, clockUnitSeconds: 0.001};
	return names.length <= 2 ? clock : undefined;
}

function readStick(
	whole: string,
	names: readonly string[],
	words: readonly string[],
	all: readonly string[],
): LabelMeaning | undefined {
	if (Object.hasOwn(wholeStick, whole)) {
		// x, y and z together are an accelerometer or a compass.
		const family = whole.slice(0, -1);
		const hasThird = all.some(other => splitLabel(other).join('') === `${family}z`);
		return hasThird ? undefined : {role: 'stick', name: wholeStick[whole]};
	}

	const axis = words[words.length - 1];
	const axisFirst = words[0];
	if (!names.some(name => stickWords.includes(name))) return undefined;
	if (names.some(isButtonWord)) return undefined;
	if (words.length < 2) return undefined;
	// `s0` to `s4` are five sensors, not a stick.
	const family = all.filter(other => splitLabel(other)[0] === words[0]).length;
	if (words[0].length === 1 && family > 2) return undefined;
	// `joy1`, `joy2`: counted from one.
	const two =
		words[1] === '2' || (words[1] === '1' && all.some(other => splitLabel(other).join(' ') === `${words[0]} 2`));
	if (words.length === 2 && two) return {role: 'stick', name: words[1] === '1' ? 'stick-x' : 'stick-y'};
	if (xWords.includes(axis) || axisFirst === 'x') return {role: 'stick', name: 'stick-x'};
	if (yWords.includes(axis) || axisFirst === 'y') return {role: 'stick', name: 'stick-y'};
	return undefined;
}

function readButton(names: readonly string[], ordinal: number | undefined): LabelMeaning | undefined {
	const isButton = names.some(isButtonWord) || names[0] === 'b';
	if (!isButton || (names[0] === 'b' && names.length > 1)) return undefined;
	return ordinal === undefined ? {role: 'button', name: 'button'} : {role: 'button', name: 'button', ordinal};
}

function readFinger(
	whole: string,
	names: readonly string[],
	ordinal: number | undefined,
	all: readonly string[],
): LabelMeaning | undefined {
	const named = fingerNamed(whole, names);
	if (named !== undefined) return {role: 'finger', name: named};
	if (ordinal !== undefined && names.every(name => groupWords.includes(name)))
		return {role: 'finger', name: 'finger', ordinal};
	const letters = names.filter(name => !groupWords.includes(name) || name.length > 1);
	const letter = names.length === 1 ? names[0] : letters.length === 1 ? letters[0] : names[names.length - 1];
	if (!Object.hasOwn(fingerLetters, letter)) return undefined;
	if (fingersByLetter(all).size >= 3) return {role: 'finger', name: fingerLetters[letter]};
	return letter === 't' && names.length === 1 ? {role: 'clock', name: 'clock', weak: true} : undefined;
}

/** The finger that a word, or all words together, are the name of. */
function fingerNamed(whole: string, names: readonly string[]): (typeof fingerNames)[number] | undefined {
	for (const name of names) {
		const finger = fingerNames.find(each => fingerWords[each].includes(name));
		if (finger !== undefined) return finger;
	}

	return fingerNames.find(finger => whole.replace(/fingers?/, '') === finger);
}

/** The fingers that labels name by a letter at their end. */
function fingersByLetter(labels: readonly string[]): ReadonlySet<string> {
	const found = new Set<string>();
	for (const label of labels) {
		const last = splitLabel(label).findLast(name => !/^\d+$/.test(name)) ?? '';
		if (Object.hasOwn(fingerLetters, last)) found.add(fingerLetters[last]);
	}

	return found;
}

function readCounter(whole: string, names: readonly string[]): LabelMeaning | undefined {
	if (weakCounterWords.includes(whole)) return {role: 'counter', name: 'counter', weak: true};
	const counts = names.some(name => counterWords.includes(name.replace(/#$/, '')));
	return counts ? {role: 'counter', name: 'counter'} : undefined;
}

const leftWords = ['left', 'lh', 'l', 'links', 'linke', 'gauche', 'izquierda', 'sinistra', 'lefthand', 'leftglove'];
const rightWords = ['right', 'rh', 'r', 'rechts', 'rechte', 'droite', 'derecha', 'destra', 'righthand', 'rightglove'];

/**
 * The hand that a label names besides its channel, and the label without it: `left.thumb`, `R_index`, `rightRing`.
 * Undefined where it names none.
 */
export function readHandLabel(
	label: string,
): {readonly hand: 'left' | 'right' | 'a' | 'b'; readonly rest: string} | undefined {
	const own = /^glove-([ab])\.(.+)$/.exec(label);
	if (own !== null) return {hand: own[1] as 'a' | 'b', rest: own[2]};
	const words = splitLabel(label);
	if (words.length < 2) return undefined;
	for (const [place, word] of words.entries()) {
		if (place > 0 && (place < words.length - 1 || word.length === 1)) continue;
		const hand = leftWords.includes(word) ? 'left' : rightWords.includes(word) ? 'right' : undefined;
		if (hand === undefined) continue;
		const rest = words.filter((other, i) => i !== place && other !== 'hand' && other !== 'glove').join(' ');
		return {hand, rest};
	}

	return undefined;
}

/** More of a label is not looked at. */
const longestLabel = 100;

/** A label as a channel name of its own: lower case, without anything a terminal or a list could trip over. */
export function nameFromLabel(label: string): string {
	const name = [
		...label
			.slice(0, longestLabel)
			.toLowerCase()
			.replace(/(?:[^\p{L}\p{N}.]|\p{Default_Ignorable_Code_Point})+/gu, '-')
			.replace(/^[-.]+|[-.]+$/g, ''),
	]
		.slice(0, 24)
		.join('');
	return name === '' ? 'spare' : name;
}
