import type {ColumnWatch} from './column-watch.ts';
import type {Channel, ChannelRole} from './layout.ts';
import {type LabelMeaning, nameFromLabel, readLabel} from './read-label.ts';

const fingers = ['thumb', 'index', 'middle', 'ring', 'little'] as const;

/** Two hands with three sensors on every finger, and two sticks. Every pair of such channels is compared: a stream of hundreds is no glove. */
const mostAnalog = 34;

/** What a column is called before names are made unique. */
type Draft = {name: string; role: ChannelRole; ordinal?: number; clockUnitSeconds?: number; isGuess?: true};

/**
 * Names and roles of all columns. Labels win; columns without one, or with labels that say nothing of fingers, go by
 * position: five fingers, stick x and y, two-valued columns as buttons. A steady +1 column is the counter and a steadily
 * rising one the clock, wherever they stand. `times` marks columns of times of day.
 */
export function nameChannels(
	labels: readonly (string | null)[],
	times: readonly boolean[],
	watch: ColumnWatch,
): Channel[] {
	const known = labels.filter(label => label !== null);
	const meanings = labels.map(label => (label === null ? undefined : readLabel(label, known)));
	const hasGlove = meanings.some(meaning => meaning?.role === 'finger' || meaning?.role === 'stick');
	const drafts: (Draft | undefined)[] = labels.map((label, column) => {
		if (times[column]) return {name: 'clock', role: 'clock', clockUnitSeconds: 1};
		const meaning = meanings[column];
		if (meaning !== undefined) return draftLabelled(meaning, label ?? '', column, meanings, watch);
		return draftByBehaviour(column, meanings, watch);
	});
	nameNumberedFingers(drafts);
	const free = drafts.flatMap((draft, column) => (draft === undefined ? [column] : []));
	if (hasGlove || meanings.some(meaning => meaning?.role === 'button')) {
		for (const column of free) drafts[column] = nameSpare(labels[column]);
	} else nameByPosition(free, drafts, watch);
	const isAnalog = ({role}: Draft) => role === 'finger' || role === 'stick';
	let analog = 0;
	return finish(
		(drafts as Draft[]).map(draft => (isAnalog(draft) && ++analog > mostAnalog ? {...draft, role: 'spare'} : draft)),
	);
}

function nameSpare(label: string | null): Draft {
	return {name: label === null ? 'spare-' : nameFromLabel(label), role: 'spare'};
}

function draftLabelled(
	meaning: LabelMeaning,
	label: string,
	column: number,
	meanings: readonly (LabelMeaning | undefined)[],
	watch: ColumnWatch,
): Draft | undefined {
	const {role, name} = meaning;
	if (role === 'clock') {
		if (!watch.isClock(column) && !watch.hasRisen(column)) return nameSpare(label);
		return {name, role, clockUnitSeconds: meaning.clockUnitSeconds ?? watch.clockUnitSeconds(column)};
	}

	if (role === 'counter') {
		if (watch.isCounter(column) || (!meaning.weak && watch.hasRisen(column))) return {name, role};
		return meaning.weak || watch.frames > 1 ? nameSpare(label) : {name, role};
	}

	if (role === 'finger') {
		// `index` may be the number of the line: it counts, and there is another index finger or no other finger.
		const others = meanings.filter((other, i) => i !== column && other?.role === 'finger');
		const alone = meanings.every((other, i) => i === column || other?.name !== name || !watch.risesEvenly(i));
		const doubtful = others.length === 0 || others.some(other => other?.name === name);
		if (name === 'index' && doubtful && watch.isCounter(column)) return {name: 'counter', role: 'counter'};
		// `t` beside t, i, m, r, p: the one that rises by itself is the time.
		const isTime = watch.isClock(column) || (doubtful && alone && watch.risesEvenly(column));
		if (name === 'thumb' && /^t$/i.test(label) && isTime)
			return {name: 'clock', role: 'clock', clockUnitSeconds: watch.clockUnitSeconds(column)};
	}

	// A trigger that turns out analog is no button.
	if (role === 'button' && !watch.canBeButton(column)) return nameSpare(label);
	return meaning.ordinal === undefined ? {name, role} : {name, role, ordinal: meaning.ordinal};
}

function draftByBehaviour(
	column: number,
	meanings: readonly (LabelMeaning | undefined)[],
	watch: ColumnWatch,
): Draft | undefined {
	if (watch.isCounter(column) && !meanings.some(meaning => meaning?.role === 'counter' && !meaning.weak))
		return {name: 'counter', role: 'counter'};
	if (watch.isClock(column)) return {name: 'clock', role: 'clock', clockUnitSeconds: watch.clockUnitSeconds(column)};
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

function nameByPosition(free: readonly number[], drafts: (Draft | undefined)[], watch: ColumnWatch): void {
	const isButton = findButtons(free, watch);
	const analogs = free.filter(column => !isButton.has(column));
	for (const column of free) if (isButton.has(column)) drafts[column] = {name: 'button', role: 'button', isGuess: true};
	for (const [place, draft] of analogRoles(analogs.length).entries()) drafts[analogs[place]] = draft;
}

/** What so many analog columns are, in order. */
function analogRoles(count: number): Draft[] {
	const finger = (name: string): Draft => ({name, role: 'finger'});
	const roles: Draft[] = fingers.slice(0, count).map(finger);
	if (count >= 10) roles.push(...fingers.map(finger));
	if ((count >= 7 && count < 10) || count >= 12)
		roles.push({name: 'stick-x', role: 'stick'}, {name: 'stick-y', role: 'stick'});
	while (roles.length < count) roles.push({name: 'spare-', role: 'spare'});
	return roles;
}

/**
 * Which unlabelled columns are buttons. The first five are fingers, unless the last ones of them are pressed like buttons
 * and buttons only follow: a glove with fewer fingers. Of the next two, a still one beside a live one is the stick's other
 * axis, however dead; two that could be buttons are. Behind them a column is a button until it shows itself analog.
 */
function findButtons(free: readonly number[], watch: ColumnWatch): Set<number> {
	const buttons = new Set<number>();
	let onlyButtonsFollow = true;
	for (let place = free.length - 1; place >= 1; place--) {
		const column = free[place];
		let isButton = watch.canBeButton(column);
		if (place < 5) isButton = onlyButtonsFollow && watch.wasPressedAtOnce(column);
		else if (place < 7) {
			const other = free[place === 5 ? 6 : 5];
			const besideAxis = other !== undefined && !watch.canBeButton(other);
			if (besideAxis) isButton = watch.isPressed(column) || watch.restsAtOne(column);
		}

		if (isButton) buttons.add(column);
		else onlyButtonsFollow = false;
	}

	return buttons;
}

/** Makes names unique: `-2` for a second thumb, numbers for buttons and spares. */
function finish(drafts: readonly Draft[]): Channel[] {
	const buttons = drafts.filter(draft => draft.role === 'button');
	const ordinals = buttons.map(draft => draft.ordinal);
	const numbered = ordinals.every(ordinal => ordinal !== undefined) && new Set(ordinals).size === ordinals.length;
	const shift = numbered && ordinals.includes(0) ? 1 : 0;
	const used = new Set<string>();
	let button = 0;
	let spare = 0;
	return drafts.map((draft, index) => {
		let base = draft.name;
		if (draft.role === 'button') base = `button-${numbered ? (draft.ordinal ?? 0) + shift : ++button}`;
		else if (base === 'spare-') base = `spare-${++spare}`;
		let name = base;
		for (let i = 2; used.has(name); i++) name = `${base}-${i}`;
		used.add(name);
		const {role, clockUnitSeconds, isGuess} = draft;
		return {
			index,
			name,
			role,
			...(isGuess === true && {isGuess}),
			...(clockUnitSeconds !== undefined && {clockUnitSeconds}),
		};
	});
}
