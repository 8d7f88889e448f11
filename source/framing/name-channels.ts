import type {ColumnWatch} from './column-watch.ts';
import type {Channel, ChannelRole, ReadBy} from './layout.ts';
import {type LabelMeaning, nameFromLabel, readHandLabel, readLabel} from './read-label.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'] as const;

/** Every pair of such channels is compared: a stream of hundreds is no glove. */
const mostAnalog = 64;

type Hand = NonNullable<Channel['hand']>;

/** What a column is called before names are made unique. */
type Draft = {
	name: string;
	role: ChannelRole;
	by: ReadBy;
	ordinal?: number;
	clockUnitSeconds?: number;
	isGuess?: true;
	hand?: Hand;
};

/**
 * Names and roles of all columns. Labels win; a labelled column of two values is a button under its own label; labels that
 * no list knows are taken in order where none names a finger. Columns without a label go by position: five fingers, stick
 * x and y, two-valued columns as buttons. A steady +1 column is the counter and a steadily rising one the clock, wherever
 * they stand. Two hands, by their labels or as two gloves one after the other, are named each by itself. `times` marks
 * columns of times of day.
 */
export function nameChannels(
	labels: readonly (string | null)[],
	times: readonly boolean[],
	watch: ColumnWatch,
): Channel[] {
	const hands = findHands(labels);
	// A number behind the hand's name is only the place.
	const bare = labels.map((label, column) => {
		const rest = hands[column]?.rest;
		return rest === undefined ? label : /^\d+$/.test(rest) ? null : rest;
	});
	const drafts = new Array<Draft | undefined>(labels.length);
	for (const hand of ['left', 'right', 'a', 'b', null] as const) {
		const columns = labels.flatMap((_, column) => ((hands[column]?.hand ?? null) === hand ? [column] : []));
		for (const [column, draft] of draftHand(columns, bare, times, watch))
			drafts[column] = hand === null ? draft : {...draft, hand};
	}

	let analog = 0;
	const judged = (drafts as Draft[]).map(draft =>
		(draft.role === 'finger' || draft.role === 'stick') && ++analog > mostAnalog
			? ({...draft, role: 'spare', by: 'beyond'} as const)
			: draft,
	);
	return finish(judged, labels);
}

type HandLabel = ReturnType<typeof readHandLabel> | null;

/** The hand that each column's label names, where both hands are named; else null for all. */
function findHands(labels: readonly (string | null)[]): readonly HandLabel[] {
	const found = labels.map(label => (label === null ? null : (readHandLabel(label) ?? null)));
	const isHand = (hand: Hand): boolean => found.filter(one => one?.hand === hand).length >= leastOfHand;
	const both = (isHand('left') && isHand('right')) || (isHand('a') && isHand('b'));
	return both ? found : labels.map(() => null);
}

/** Columns that must name a hand for it to be one. */
const leastOfHand = 3;

/** What the columns of one hand are. */
function draftHand(
	columns: readonly number[],
	labels: readonly (string | null)[],
	times: readonly boolean[],
	watch: ColumnWatch,
): Map<number, Draft> {
	const known = columns.flatMap(column => labels[column] ?? []);
	const meanings: (LabelMeaning | undefined)[] = labels.map(() => undefined);
	for (const column of columns) {
		const label = labels[column];
		meanings[column] = label === null ? undefined : readLabel(label, known);
	}

	const drafts = new Array<Draft | undefined>(labels.length);
	for (const column of columns) {
		const meaning = meanings[column];
		if (times[column]) drafts[column] = {name: 'clock', role: 'clock', by: 'behaviour', clockUnitSeconds: 1};
		else if (meaning?.role === 'spare' || meaning?.role === 'battery')
			drafts[column] = {name: nameFromLabel(labels[column] ?? ''), role: meaning.role, by: 'label'};
		else if (meaning !== undefined)
			drafts[column] = draftLabelled(meaning, labels[column] ?? '', column, meanings, watch);
		else drafts[column] = draftByBehaviour(column, meanings, watch);
	}

	nameNumberedFingers(drafts.filter(draft => draft !== undefined));
	const free = columns.filter(column => drafts[column] === undefined);
	if (meanings.some(meaning => meaning?.role === 'finger')) {
		for (const column of free) drafts[column] = draftUnknown(labels[column], column, watch);
	} else
		nameByPosition(
			free,
			drafts,
			labels,
			meanings.some(meaning => meaning?.role === 'stick'),
			watch,
		);
	return new Map(columns.map(column => [column, drafts[column] as Draft]));
}

/** A column whose label no list knows, beside fingers that have theirs: a button where it has two values. */
function draftUnknown(label: string | null, column: number, watch: ColumnWatch): Draft {
	if (label === null) return {name: 'spare-', role: 'spare', by: 'unknown'};
	const isButton = watch.kinds.isTwoValued(column) || watch.kinds.restsAtEnd(column);
	return isButton ? buttonOf(label) : nameSpare(label);
}

/** A guess from its first frame on: a guess that is confirmed would begin a new layout, and the press that did it be lost. */
function buttonOf(label: string): Draft {
	return {name: nameFromLabel(label), role: 'button', by: 'values', isGuess: true};
}

function nameSpare(label: string | null): Draft {
	return {name: label === null ? 'spare-' : nameFromLabel(label), role: 'spare', by: 'unknown'};
}

function draftLabelled(
	meaning: LabelMeaning,
	label: string,
	column: number,
	meanings: readonly (LabelMeaning | undefined)[],
	watch: ColumnWatch,
): Draft | undefined {
	const {role, name} = meaning;
	const by = 'label';
	if (role === 'clock') {
		if (!watch.isClock(column) && !watch.steps.hasRisen(column)) return nameSpare(label);
		return {name, role, by, clockUnitSeconds: meaning.clockUnitSeconds ?? watch.steps.clockUnitSeconds(column)};
	}

	if (role === 'counter') return mayCount(meaning, column, watch) ? {name, role, by} : nameSpare(label);
	const mistaken = role === 'finger' ? draftMistaken(name, label, column, meanings, watch) : undefined;
	if (mistaken !== undefined) return mistaken;
	// What turns out analog is no button.
	if (role === 'button' && !watch.kinds.canBeButton(column)) return nameSpare(label);
	return meaning.ordinal === undefined ? {name, role, by} : {name, role, by, ordinal: meaning.ordinal};
}

/** A weak name must count to be believed; a plain one is believed from the first frame on, until it does not rise. */
function mayCount({weak}: LabelMeaning, column: number, watch: ColumnWatch): boolean {
	return watch.isCounter(column) || (!weak && (watch.steps.hasRisen(column) || watch.frames <= 1));
}

/** A finger's name on a column that is none: the number of the line, or the time. Undefined for a finger. */
function draftMistaken(
	name: string,
	label: string,
	column: number,
	meanings: readonly (LabelMeaning | undefined)[],
	watch: ColumnWatch,
): Draft | undefined {
	// `index` may be the number of the line: it counts, and there is another index finger or no other finger.
	const others = meanings.filter((other, i) => i !== column && other?.role === 'finger');
	const doubtful = others.length === 0 || others.some(other => other?.name === name);
	if (name === 'index' && doubtful && watch.isCounter(column)) return {name: 'counter', role: 'counter', by: 'label'};
	if (name !== 'thumb' || !/^t$/i.test(label)) return undefined;
	// `t` beside t, i, m, r, p: the one that rises by itself is the time.
	const alone = meanings.every((other, i) => i === column || other?.name !== name || !watch.steps.risesEvenly(i));
	const isTime = watch.isClock(column) || (doubtful && alone && watch.steps.risesEvenly(column));
	return isTime
		? {name: 'clock', role: 'clock', by: 'label', clockUnitSeconds: watch.steps.clockUnitSeconds(column)}
		: undefined;
}

function draftByBehaviour(
	column: number,
	meanings: readonly (LabelMeaning | undefined)[],
	watch: ColumnWatch,
): Draft | undefined {
	if (watch.isCounter(column) && !meanings.some(meaning => meaning?.role === 'counter' && !meaning.weak))
		return {name: 'counter', role: 'counter', by: 'behaviour'};
	if (watch.isClock(column))
		return {name: 'clock', role: 'clock', by: 'behaviour', clockUnitSeconds: watch.steps.clockUnitSeconds(column)};
	return undefined;
}

/** `f0` to `f4` or `f1` to `f5`: the lowest number is the thumb. */
function nameNumberedFingers(drafts: readonly (Draft | undefined)[]): void {
	const numbered = drafts.filter(draft => draft?.name === 'finger');
	const lowest = Math.min(...numbered.map(draft => draft?.ordinal ?? 0), 1);
	for (const draft of numbered) {
		if (draft !== undefined) draft.name = fingers[((draft.ordinal ?? 0) - lowest) % fingers.length] ?? 'thumb';
	}
}

/**
 * Names columns that no label names as fingers, stick and buttons, in order. `labels` are what stands there instead.
 * Columns that are not the hand's are left out first; a second glove behind the first is a second hand.
 */
function nameByPosition(
	unnamed: readonly number[],
	drafts: (Draft | undefined)[],
	labels: readonly (string | null)[],
	hasStick: boolean,
	watch: ColumnWatch,
): void {
	let free = unnamed;
	const printed = free.filter(column => watch.kinds.isPrintedWithDecimals(column) || watch.kinds.hasFraction(column));
	const whole = free.filter(column => !printed.includes(column));
	if (whole.length - findButtons(whole, watch, labels).size >= fingers.length) {
		for (const column of printed) drafts[column] = {...spareOf(labels[column]), by: 'decimals'};
		free = whole;
	}

	const isButton = findButtons(free, watch, labels);
	for (const column of free) {
		if (!isButton.has(column)) continue;
		const label = labels[column];
		drafts[column] = label === null ? {name: 'button', role: 'button', by: 'place', isGuess: true} : buttonOf(label);
	}

	let analogs = free.filter(column => !isButton.has(column));

	const behind = notTheHands(free, analogs, isButton, watch);
	for (const column of behind) drafts[column] = {...spareOf(labels[column]), by: 'behind'};
	analogs = analogs.filter(column => !behind.includes(column));
	const gloves = twoGloves(free, analogs, isButton);
	if (gloves === undefined) nameAnalogs(analogs, hasStick, drafts, labels);
	else {
		for (const [place, columns] of gloves.entries()) {
			nameAnalogs(
				columns.filter(column => analogs.includes(column)),
				false,
				drafts,
				labels,
			);
			giveHand(place === 0 ? 'a' : 'b', columns, drafts);
		}
	}
}

/** Names the analog columns of a hand, or of two that share a row of fingers, in order. */
function nameAnalogs(
	columns: readonly number[],
	hasStick: boolean,
	drafts: (Draft | undefined)[],
	labels: readonly (string | null)[],
): void {
	for (const [place, draft] of analogRoles(columns.length, hasStick).entries()) {
		const column = columns[place];
		const by: ReadBy = labels[column] === null ? 'place' : 'order';
		drafts[column] = draft.role === 'spare' ? {...spareOf(labels[column]), by} : {...draft, by};
	}
}

function giveHand(hand: Hand, columns: readonly number[], drafts: (Draft | undefined)[]): void {
	for (const column of columns) {
		const draft = drafts[column];
		if (draft !== undefined && draft.role !== 'spare') drafts[column] = {...draft, hand};
	}
}

function spareOf(label: string | null): Omit<Draft, 'by'> {
	return {name: label === null ? 'spare-' : nameFromLabel(label), role: 'spare'};
}

/** Analog columns of a whole glove: fingers alone, or with a stick. */
const wholeGlove = [5, 7];

/**
 * Analog columns behind the buttons of a glove that is whole without them, or below 0 while its fingers never are: angles
 * and accelerations. A second glove has as many columns as the first.
 */
function notTheHands(
	free: readonly number[],
	analogs: readonly number[],
	isButton: ReadonlySet<number>,
	watch: ColumnWatch,
): number[] {
	const place = free.findIndex(column => isButton.has(column));
	if (place < 0) return [];
	const before = analogs.filter(column => column < free[place]);
	const behind = analogs.filter(column => column > free[place]);
	if (!wholeGlove.includes(before.length) || behind.length === 0) return [];
	const isSigned =
		before.every(column => !watch.kinds.wasBelowZero(column)) &&
		behind.some(column => watch.kinds.wasBelowZero(column));
	return isSigned || behind.length < before.length ? behind : [];
}

/** The columns of two gloves that follow each other, each with its buttons: analog ones, buttons, analog ones, buttons. */
function twoGloves(
	free: readonly number[],
	analogs: readonly number[],
	isButton: ReadonlySet<number>,
): readonly (readonly number[])[] | undefined {
	const first = free.findIndex(column => isButton.has(column));
	if (first < 0) return undefined;
	const second = free.findIndex((column, place) => place > first && analogs.includes(column));
	if (second < 0) return undefined;
	const one = free.slice(0, second);
	const other = free.slice(second);
	const count = (columns: readonly number[]): number => columns.filter(column => analogs.includes(column)).length;
	return wholeGlove.includes(count(one)) && count(one) === count(other) ? [one, other] : undefined;
}

/** What so many analog columns are, in order. With ten or more they are two hands. */
function analogRoles(count: number, hasStick: boolean): Omit<Draft, 'by'>[] {
	const finger = (name: string): Omit<Draft, 'by'> => ({name, role: 'finger'});
	const roles = fingers.slice(0, count).map(finger);
	const stick = (hand?: Hand): Omit<Draft, 'by'>[] =>
		['stick-x', 'stick-y'].map(name => ({name, role: 'stick', ...(hand && {hand})}));
	const ofHand = (hand: Hand): Omit<Draft, 'by'>[] => fingers.map(name => ({...finger(name), hand}));
	if (count === 14 && !hasStick) return [...ofHand('a'), ...stick('a'), ...ofHand('b'), ...stick('b')];
	if (count >= 10) roles.splice(0, roles.length, ...ofHand('a'), ...ofHand('b'));
	if (!hasStick && ((count >= 7 && count < 10) || count >= 12)) roles.push(...stick());
	while (roles.length < count) roles.push({name: 'spare-', role: 'spare'});
	return roles;
}

/**
 * Which unlabelled columns are buttons. The first five are fingers, unless the last ones of them are pressed like buttons
 * and buttons only follow: a glove with fewer fingers. Of the next two, a still one beside a live one is the stick's other
 * axis, however dead; two that could be buttons are. Behind them a column is a button until it shows itself analog. A label
 * that is a word and no number makes a button of a column of two values wherever it stands.
 */
function findButtons(free: readonly number[], watch: ColumnWatch, labels: readonly (string | null)[]): Set<number> {
	const buttons = new Set<number>();
	let onlyButtonsFollow = true;
	for (let place = free.length - 1; place >= 1; place--) {
		const column = free[place];
		let isButton = watch.kinds.canBeButton(column);
		if (watch.kinds.isTwoValued(column) && isWord(labels[column])) isButton = true;
		else if (place < 5) isButton = onlyButtonsFollow && watch.wasPressedAtOnce(column);
		else if (place < 7) {
			const other = free[place === 5 ? 6 : 5];
			const besideAxis = other !== undefined && !watch.kinds.canBeButton(other);
			if (besideAxis) isButton = watch.isPressed(column) || watch.kinds.restsAtOne(column);
		}

		if (isButton) buttons.add(column);
		else onlyButtonsFollow = false;
	}

	return buttons;
}

/** `laugh` is a word; `ch4` and `e` are places. */
function isWord(label: string | null): boolean {
	return label !== null && /^\p{L}{2}(?:.*\P{N})?$/u.test(label);
}

/** Makes names unique: `-2` for a second thumb, numbers for buttons and spares. */
function finish(drafts: readonly Draft[], labels: readonly (string | null)[]): Channel[] {
	const buttons = drafts.filter(({name, role}) => role === 'button' && name === 'button');
	const ordinals = buttons.map(draft => draft.ordinal);
	const numbered = ordinals.every(ordinal => ordinal !== undefined) && new Set(ordinals).size === ordinals.length;
	const shift = numbered && ordinals.includes(0) ? 1 : 0;
	const used = new Set<string>();
	const usedOfHand = new Map<Hand, Set<string>>();
	let button = 0;
	let spare = 0;
	const baseOf = ({name, role, ordinal}: Draft): string => {
		if (role === 'button' && name === 'button') return `button-${numbered ? (ordinal ?? 0) + shift : ++button}`;
		return name === 'spare-' ? `spare-${++spare}` : name;
	};
	const nameOnHand = (base: string, hand: Hand): string => {
		const ofHand = usedOfHand.get(hand) ?? new Set();
		usedOfHand.set(hand, ofHand);
		return takeName(base, ofHand);
	};
	return drafts.map((draft, index) => {
		const base = baseOf(draft);
		const {role, by, clockUnitSeconds, isGuess, hand} = draft;
		const label = labels[index];
		return {
			index,
			name: takeName(base, used),
			role,
			by,
			...(label !== null && {label}),
			...(isGuess === true && {isGuess}),
			...(hand !== undefined && {hand, nameOnHand: nameOnHand(base, hand)}),
			...(clockUnitSeconds !== undefined && {clockUnitSeconds}),
		};
	});
}

/** The name, with a number from 2 on where it is taken; it is taken then. */
function takeName(base: string, used: Set<string>): string {
	let name = base;
	for (let i = 2; used.has(name); i++) name = `${base}-${i}`;
	used.add(name);
	return name;
}
