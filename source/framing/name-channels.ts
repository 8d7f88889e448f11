import {clockUnitOf, type LabelRole, labelWords, readLabel} from './label-roles.ts';
import type {Channel, ChannelRole} from './layout.ts';

/** No converter in use gives more: 16 bit. */
const mostCounts = 65_535;

const fingerNames = ['thumb', 'index', 'middle', 'ring', 'little'] as const;

/** What is known of a column before it gets its name: its label, and what its values did over the first lines. */
export type ColumnFacts = {
	readonly label: string;
	readonly values: readonly number[];
	/** What later lines have shown a column without a name to be, whatever its first values looked like. */
	readonly decided?: {readonly role: 'analog' | 'button' | 'counter' | 'clock'; readonly clockUnitSeconds?: number};
};

type Named = {name: string; role: ChannelRole; clockUnitSeconds?: number; hand?: 0 | 1 | 2};

/** Labels that many things are called: only columns that really count are counters. */
const vagueCounters = /^(n|nr|no|num|id|frame|frames|sample|samples|count|packet|pkt)$/;

/**
 * Names and roles of all columns. Labels win; columns without one, or with labels that only number them (`A0`…, `ch1`…),
 * go by position: five fingers, stick x and y, then two-valued columns as buttons, a steady +1 column as the counter, a
 * steadily rising one as the clock.
 *
 * `times` are the arrival times of the lines in seconds (made up or not: `timed` tells).
 */
export function nameChannels(columns: readonly ColumnFacts[], times: readonly number[], timed: boolean): Channel[] {
	const read = readLabels(columns);
	const named: (Named | undefined)[] = columns.map((column, i) => byLabel(column, read[i], times));
	placeNumbered(read, named, 'finger');
	placeNumbered(read, named, 'stick');
	const free = columns.map((_, i) => i).filter(i => named[i] === undefined);
	const fingersKnown = named.some(other => other?.role === 'finger');
	if (free.length > 0) {
		if (!fingersKnown) nameByPosition(columns, free, named, times, timed);
		else nameRest(columns, free, named, times, timed);
	}
	return finish(named as Named[]);
}

/** Reads all labels, and those that only make sense beside each other: `a b c d`, `s1 s2 s3`, `LT LI LM`. */
function readLabels(columns: readonly ColumnFacts[]): (LabelRole | undefined)[] {
	const labels = columns.map(column => column.label);
	const read = labels.map(label => (label === '' ? undefined : readLabel(label)));
	const letters = new Set(labels.filter(label => /^\p{L}$/u.test(label)).map(label => label.toLowerCase()));
	const alphabet = ['a', 'b', 'c', 'd'].every(letter => letters.has(letter));
	const pairs = labels.filter(label => /^[lr][timrlp]$/i.test(label)).length;
	const families = new Map<string, number>();
	for (const label of labels) {
		const family = /^(\p{L}{1,2})[ _-]?\d{1,2}$/u.exec(label)?.[1].toLowerCase();
		if (family !== undefined) families.set(family, (families.get(family) ?? 0) + 1);
	}
	return labels.map((label, i) => {
		const single = /^\p{L}$/u.test(label);
		if (alphabet && single && label.toLowerCase() <= 'p')
			return {name: '', role: 'spare', hand: 0, place: label.toLowerCase().charCodeAt(0) - 97, family: 'letter'};
		if (pairs >= 3 && /^[lr][timrlp]$/i.test(label)) {
			const role = readLabel(label[1]);
			if (role !== undefined) return {...role, hand: /^l/i.test(label) ? 1 : 2};
		}
		const numbered = /^(\p{L}{1,2})[ _-]?(\d{1,2})$/u.exec(label);
		const family = numbered?.[1].toLowerCase() ?? '';
		if (numbered !== null && (families.get(family) ?? 0) >= 3 && !/^(b|bt|bn|sw|x|y|jx|jy)$/.test(family)) {
			const place = Number(numbered[2]);
			if (/^[lr]$/.test(family)) return {name: '', role: 'finger', hand: family === 'l' ? 1 : 2, place, family};
			return read[i]?.family ? read[i] : {name: '', role: 'spare', hand: 0, place, family};
		}
		return read[i];
	});
}

function byLabel(column: ColumnFacts, read: LabelRole | undefined, times: readonly number[]): Named | undefined {
	const {label, values} = column;
	if (label === '') return undefined;
	if (read === undefined) return {name: cleanName(label), role: 'spare'};
	const {name, role, hand} = read;
	if (name === '') return undefined;
	const words = labelWords(label);
	if (name === 'thumb' && words.length === 1 && words[0] === 't') {
		const unit = clockUnitOf(label) ?? isClock(values, times, true);
		if (unit !== undefined && rises(values)) return {name: 'clock', role: 'clock', clockUnitSeconds: unit};
	}
	if (role === 'counter' && words.some(word => vagueCounters.test(word)) && !isCounter(values, 3))
		return {name: cleanName(label), role: 'spare'};
	if (role === 'clock') {
		// `time` may be how long a loop took.
		if (!rises(values)) return {name: cleanName(label), role: 'spare'};
		return {name, role, clockUnitSeconds: clockUnitOf(label) ?? isClock(values, times, true, 4) ?? 0.001};
	}
	return {name, role, hand};
}

/** Whether values go up most of the time and never far down but once (a clock that wraps or starts again). */
function rises(values: readonly number[]): boolean {
	let up = 0;
	let down = 0;
	for (let i = 1; i < values.length; i++) {
		if (values[i] > values[i - 1]) up++;
		else if (values[i] < values[i - 1]) down++;
	}
	return values.length < 3 || (down <= 1 && up >= 1);
}

/** Names of channels whose labels number them among the fingers or the axes of a stick. */
function placeNumbered(
	read: readonly (LabelRole | undefined)[],
	named: (Named | undefined)[],
	role: 'finger' | 'stick',
): void {
	for (const hand of [0, 1, 2] as const) {
		const columns = read.flatMap((label, i) =>
			label !== undefined && label.family !== '' && label.role === role && label.hand === hand
				? [{i, place: label.place}]
				: [],
		);
		columns.sort((one, other) => one.place - other.place || one.i - other.i);
		for (const [k, {i}] of columns.entries()) {
			if (role === 'finger')
				named[i] = {name: fingerNames[k % 5] + (k >= 5 ? `-${1 + Math.floor(k / 5)}` : ''), role, hand};
			else named[i] = {name: k % 2 === 0 ? 'stick-x' : 'stick-y', role, hand};
		}
	}
}

/** Columns without a name beside named fingers: a counter, a clock and buttons are known by what they do. */
function nameRest(
	columns: readonly ColumnFacts[],
	free: readonly number[],
	named: (Named | undefined)[],
	times: readonly number[],
	timed: boolean,
): void {
	let spare = 0;
	for (const i of takeCounterAndClock(columns, free, named, times, timed)) {
		const seen = new Set(columns[i].values);
		const button = [...seen].every(value => value === 0 || value === 1);
		named[i] = button ? {name: 'button', role: 'button'} : {name: `spare-${++spare}`, role: 'spare'};
	}
}

function nameByPosition(
	columns: readonly ColumnFacts[],
	free: readonly number[],
	named: (Named | undefined)[],
	times: readonly number[],
	timed: boolean,
): void {
	const rest = takeCounterAndClock(columns, free, named, times, timed);
	// Buttons stand behind the analog columns.
	let analog = rest.length;
	while (analog > 0 && isButton(columns[rest[analog - 1]], analog - 1, rest.length)) analog--;
	const stickKnown = named.some(other => other?.role === 'stick');
	const names = positionNames(analog, !stickKnown);
	for (let k = 0; k < analog; k++) named[rest[k]] = names[k];
	for (let k = analog; k < rest.length; k++) named[rest[k]] = {name: `button-${k - analog + 1}`, role: 'button'};
}

/** Takes the counter and the clock out of the columns that go by position; the others' indices. */
function takeCounterAndClock(
	columns: readonly ColumnFacts[],
	free: readonly number[],
	named: (Named | undefined)[],
	times: readonly number[],
	timed: boolean,
): number[] {
	const rest: number[] = [];
	for (const i of free) {
		const {values, decided} = columns[i];
		const counter = decided === undefined ? isCounter(values) : decided.role === 'counter';
		if (counter && !named.some(other => other?.role === 'counter')) {
			named[i] = {name: 'counter', role: 'counter'};
			continue;
		}
		const unit = decided === undefined ? isClock(values, times, timed) : decided.clockUnitSeconds;
		if (unit !== undefined && !named.some(other => other?.role === 'clock'))
			named[i] = {name: 'clock', role: 'clock', clockUnitSeconds: unit};
		else rest.push(i);
	}
	return rest;
}

/** Names of so many analog columns in a row. */
function positionNames(count: number, withStick: boolean): Named[] {
	const fingers = count >= 10 ? 10 : Math.min(5, count);
	const names: Named[] = [];
	for (let k = 0; k < fingers; k++) names.push({name: fingerNames[k % 5] + (k >= 5 ? '-2' : ''), role: 'finger'});
	if (withStick && count - fingers >= 2) {
		names.push({name: 'stick-x', role: 'stick'}, {name: 'stick-y', role: 'stick'});
	}
	for (let spare = 1; names.length < count; spare++) names.push({name: `spare-${spare}`, role: 'spare'});
	return names;
}

/**
 * Steady steps of +1, with wraps of any modulus from 3 on and a few skips. A column that goes 0, 1, 0, 1 is no counter
 * but a button or a blink. `least` is how many values it takes to tell.
 */
export function isCounter(values: readonly number[], least = 8): boolean {
	if (values.length < least || !values.every(Number.isInteger)) return false;
	const top = Math.max(...values);
	const bottom = Math.min(...values);
	if (top - bottom < 2) return false;
	let single = 0;
	let odd = 0;
	for (let i = 1; i < values.length; i++) {
		const step = values[i] - values[i - 1];
		if (step === 1 || (values[i] === bottom && values[i - 1] === top)) single++;
		else if (!(step > 1 && step <= 10) && !(step < 0 && values[i] <= bottom + 10)) odd++;
	}
	return odd <= 1 && single >= 0.8 * (values.length - 1);
}

/** Seconds per unit of a column that rises like a clock against the arrival times; undefined where it does not. */
function isClock(values: readonly number[], times: readonly number[], timed: boolean, least = 8): number | undefined {
	if (values.length < least) return undefined;
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
		// Lines that came in one burst say nothing of the clock's pace: then only what no converter gives is a clock.
		if (values[values.length - 1] <= mostCounts) return undefined;
	}
	// Without times: beyond what a converter gives, or too even for a finger.
	const slack = values.every(Number.isInteger) ? 1 : 0;
	const veryEven =
		steps.filter(step => Math.abs(step - median) <= Math.max(slack, 0.15 * median)).length >= 0.9 * steps.length;
	if (!veryEven || values.length < 12) return undefined;
	if (median >= 1000) return 1e-6;
	if (values[values.length - 1] < 1000 && values.some(value => !Number.isInteger(value))) return 1;
	return values[values.length - 1] > 4200 || median > 1 ? 0.001 : undefined;
}

/** Two-valued columns behind the fingers: 0 and 1, or 0 and a top value. `place` counts analog columns so far. */
function isButton({values, decided}: ColumnFacts, place: number, total: number): boolean {
	if (decided !== undefined) return decided.role === 'button';
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
	return (
		label
			.replace(/[^\p{L}\p{N}_.-]+/gu, '-')
			.replace(/^-+|-+$/g, '')
			.slice(0, 24) || 'spare'
	);
}

/**
 * Makes names unique and numbers the buttons. Of two hands the one that comes first has the plain names, the other's all
 * end in `-2`.
 */
function finish(named: readonly Named[]): Channel[] {
	const used = new Set<string>();
	const names = new Array<string>(named.length);
	let buttons = 0;
	const firstHand = named.find(({hand}) => hand !== undefined && hand !== 0)?.hand ?? 0;
	const isSecond = ({hand}: Named) => hand !== undefined && hand !== 0 && hand !== firstHand;
	for (const second of [false, true]) {
		for (const [i, column] of named.entries()) {
			if (isSecond(column) !== second || column.role === 'button') continue;
			let unique = second ? `${column.name}-2` : column.name;
			for (let count = 2; used.has(unique); count++) unique = `${column.name}-${count}`;
			used.add(unique);
			names[i] = unique;
		}
	}
	return named.map(({role, clockUnitSeconds}, index) => {
		const name = role === 'button' ? `button-${++buttons}` : names[index];
		return {index, name, role, ...(clockUnitSeconds === undefined ? {} : {clockUnitSeconds})};
	});
}
