import type {Channel, ChannelRole} from './layout.ts';

const fingerNames = ['thumb', 'index', 'middle', 'ring', 'little'] as const;

/** Spellings met for each name; matched on the label's last word, lower case, without digits and punctuation. */
const spellings: readonly (readonly [name: string, role: ChannelRole, pattern: RegExp])[] = [
	['thumb', 'finger', /^(thumb|thmb|thm|th|t|pollex|daumen|pouce)$/],
	['index', 'finger', /^(index|indx|idx|ind|i|pointer|point|fore|forefinger|zeigefinger)$/],
	['middle', 'finger', /^(middle|mid|mdl|m|long|mittelfinger)$/],
	['ring', 'finger', /^(ring|rng|rg|r|ringfinger)$/],
	['little', 'finger', /^(little|lttl|lit|ltl|l|pinky|pinkie|pinkey|pnk|pk|p|small|baby|kleinerfinger)$/],
	['stick-x', 'stick', /^(x|jx|sx|lx|rx|joyx|joyxaxis|stickx|xaxis|axisx|joystickx|thumbstickx|horizontal|horz|vrx)$/],
	['stick-y', 'stick', /^(y|jy|sy|ly|ry|joyy|sticky|yaxis|axisy|joysticky|thumbsticky|vertical|vert|vry)$/],
	['counter', 'counter', /^(counter|count|cnt|seq|sequence|n|nr|no|num|frame|frameno|packet|pkt|id|sample)$/],
	[
		'clock',
		'clock',
		/^(clock|clk|time|timestamp|ts|ms|millis|millisecond|milliseconds|us|micros|microseconds|uptime|elapsed|sec|seconds)$/,
	],
	[
		'button',
		'button',
		/^(button|btn|but|b|bt|key|click|joyclick|joysw|joybtn|sw|switch|trigger|trig|grab|pinch|press|pressed|menu|calib|fire)$/,
	],
];

/** What is known of a column before it gets its name: its label, and what its values did over the first lines. */
export type ColumnFacts = {
	readonly label: string;
	readonly values: readonly number[];
};

type Named = {name: string; role: ChannelRole; clockUnitSeconds?: number};

/**
 * Names and roles of all columns. Labels win; columns without one go by position: five fingers, stick x and y, then
 * two-valued columns as buttons, a steady +1 column as the counter, a steadily rising one as the clock.
 *
 * `times` are the arrival times of the lines in seconds (made up or not: `timed` tells).
 */
export function nameChannels(columns: readonly ColumnFacts[], times: readonly number[], timed: boolean): Channel[] {
	const named: (Named | undefined)[] = columns.map(column => byLabel(column, times));
	const free = columns.map((_, i) => i).filter(i => named[i] === undefined);
	const labelled = free.length < columns.length;
	if (!labelled) nameByPosition(columns, free, named, times, timed);
	else {
		let spare = 0;
		for (const i of free) named[i] = {name: `spare-${++spare}`, role: 'spare'};
	}
	return finish(named as Named[]);
}

function byLabel(column: ColumnFacts, times: readonly number[]): Named | undefined {
	if (column.label === '') return undefined;
	const match = matchLabel(column.label);
	if (match === undefined) return {name: cleanName(column.label), role: 'spare'};
	const [name, role] = match;
	if (name === 'thumb' && /^t$/i.test(column.label) && isClock(column.values, times, true) !== undefined) {
		return {name: 'clock', role: 'clock', clockUnitSeconds: isClock(column.values, times, true)};
	}
	if (role === 'clock') {
		const unit = /^(us|micros|microseconds)$/i.test(column.label)
			? 1e-6
			: /^(sec|seconds|s)$/i.test(column.label)
				? 1
				: undefined;
		return {name, role, clockUnitSeconds: unit ?? isClock(column.values, times, true) ?? 0.001};
	}
	return {name, role};
}

/** The name and role that a label stands for; undefined for labels that say nothing we know. */
export function matchLabel(label: string): readonly [name: string, role: ChannelRole] | undefined {
	const split = label
		.replace(/([a-z])([A-Z])/g, '$1 $2')
		.toLowerCase()
		.split(/[^\p{L}\p{N}]+/u)
		.filter(part => part !== '');
	const numbered =
		/^(?:f|finger|flex|pot|reel)[ _-]?(\d)$/.exec(split.join('').trim()) ??
		/^(?:fingers|flex|pots)(\d)$/.exec(split.join(''));
	if (numbered !== null) return undefined;
	const whole = split.join('').replace(/\d+$/, '');
	const last = (split[split.length - 1] ?? '').replace(/\d+$/, '');
	const beforeLast = (split[split.length - 2] ?? '') + last;
	for (const candidate of [whole, beforeLast, last, split[0]?.replace(/\d+$/, '') ?? '']) {
		for (const [name, role, pattern] of spellings) if (candidate !== '' && pattern.test(candidate)) return [name, role];
	}
	return undefined;
}

function nameByPosition(
	columns: readonly ColumnFacts[],
	free: readonly number[],
	named: (Named | undefined)[],
	times: readonly number[],
	timed: boolean,
): void {
	const rest: number[] = [];
	for (const i of free) {
		const {values} = columns[i];
		if (isCounter(values) && !named.some(other => other?.role === 'counter'))
			named[i] = {name: 'counter', role: 'counter'};
		else {
			const unit = isClock(values, times, timed);
			if (unit !== undefined && !named.some(other => other?.role === 'clock'))
				named[i] = {name: 'clock', role: 'clock', clockUnitSeconds: unit};
			else rest.push(i);
		}
	}
	// Buttons stand behind the analog columns.
	let analog = rest.length;
	while (analog > 0 && isButton(columns[rest[analog - 1]].values, analog - 1, rest.length)) analog--;
	const names = positionNames(analog);
	for (let k = 0; k < analog; k++) named[rest[k]] = names[k];
	for (let k = analog; k < rest.length; k++) named[rest[k]] = {name: `button-${k - analog + 1}`, role: 'button'};
}

/** Names of so many analog columns in a row. */
function positionNames(count: number): Named[] {
	const fingers = count >= 10 ? 10 : Math.min(5, count);
	const names: Named[] = [];
	for (let k = 0; k < fingers; k++) names.push({name: fingerNames[k % 5] + (k >= 5 ? '-2' : ''), role: 'finger'});
	if (count - fingers >= 2) {
		names.push({name: 'stick-x', role: 'stick'}, {name: 'stick-y', role: 'stick'});
	}
	for (let spare = 1; names.length < count; spare++) names.push({name: `spare-${spare}`, role: 'spare'});
	return names;
}

/** Steady steps of +1, with wraps to zero and a few skips. */
export function isCounter(values: readonly number[]): boolean {
	if (values.length < 8 || !values.every(Number.isInteger)) return false;
	let single = 0;
	let odd = 0;
	for (let i = 1; i < values.length; i++) {
		const step = values[i] - values[i - 1];
		if (step === 1) single++;
		else if (!(step > 1 && step <= 10) && !(step < 0 && values[i] <= 10)) odd++;
	}
	return odd <= 1 && single >= 0.8 * (values.length - 1);
}

/** Seconds per unit of a column that rises like a clock against the arrival times; undefined where it does not. */
function isClock(values: readonly number[], times: readonly number[], timed: boolean): number | undefined {
	if (values.length < 8) return undefined;
	const steps: number[] = [];
	for (let i = 1; i < values.length; i++) steps.push(values[i] - values[i - 1]);
	if (steps.some(step => !(step > 0))) return undefined;
	const sorted = [...steps].sort((one, other) => one - other);
	const median = sorted[sorted.length >> 1];
	// A clock's steps are even; a finger that happens to rise accelerates and brakes. One long step is a lost frame.
	const even = steps.filter(step => step >= 0.6 * median && step <= 1.7 * median).length;
	if (even < 0.8 * steps.length) return undefined;
	const rise = values[values.length - 1] - values[0];
	const passed = times[times.length - 1] - times[0];
	if (timed && passed > 0) {
		const perSecond = rise / passed;
		for (const unit of [1, 0.001, 1e-6]) if (perSecond * unit > 0.7 && perSecond * unit < 1.4) return unit;
		return undefined;
	}
	// Without times: beyond what a converter gives, or too even for a finger.
	const veryEven =
		steps.filter(step => Math.abs(step - median) <= Math.max(1, 0.15 * median)).length >= 0.9 * steps.length;
	if (!veryEven || values.length < 12) return undefined;
	if (median >= 1000) return 1e-6;
	return values[values.length - 1] > 4200 || median > 1 ? 0.001 : undefined;
}

/** Two-valued columns behind the fingers: 0 and 1, or 0 and a top value. `place` counts analog columns so far. */
function isButton(values: readonly number[], place: number, total: number): boolean {
	const seen = new Set(values.filter(value => !Number.isNaN(value)));
	const only01 = [...seen].every(value => value === 0 || value === 1);
	if (place >= 5) {
		if (only01) return true;
		return seen.size === 2 && seen.has(0) && [...seen].some(value => value >= 100);
	}
	// Among the first five a column of zeros is a dead finger; one that reads 1 is a button, as on a glove of three fingers.
	return only01 && seen.has(1) && total >= 2 && place >= 1;
}

function cleanName(label: string): string {
	return label.replace(/[^\p{L}\p{N}_.-]+/gu, '-').slice(0, 24);
}

/** Makes names unique and numbers the buttons. */
function finish(named: readonly Named[]): Channel[] {
	const used = new Map<string, number>();
	let buttons = 0;
	return named.map(({name, role, clockUnitSeconds}, index) => {
		let unique = name;
		if (role === 'button') unique = `button-${++buttons}`;
		else {
			const count = (used.get(name) ?? 0) + 1;
			used.set(name, count);
			if (count > 1) unique = `${name}-${count}`;
		}
		return {index, name: unique, role, ...(clockUnitSeconds === undefined ? {} : {clockUnitSeconds})};
	});
}
