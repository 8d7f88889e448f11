import type {LengthUnit} from './pose-form.ts';

export type Order = 'wxyz' | 'xyzw';

/** Where in a row the pose stands. */
export type PoseColumns = {
	readonly time: number | undefined;
	/** The time column is in ISO 8601 or in hours, minutes and seconds. */
	readonly place: readonly [number, number, number];
	/** Of the quaternion: w, x, y, z where names tell, else as they stand. */
	readonly turn: readonly [number, number, number, number];
	/** Known where names tell it. */
	readonly order: Order | undefined;
	readonly device: number | undefined;
	/** Of positions, where a name says it. */
	readonly unit: LengthUnit | undefined;
	readonly width: number;
};

/** Rows that are looked at to find out what the columns are. */
export const lookedAt = 400;

/** A quaternion of length 1 to four or more digits, in nearly all rows. */
const unitLength = 0.02;
const leastShare = 0.99;

/** Most of the things that one log tells apart. */
const mostDevices = 50;

const placeName =
	/^(?:.*[._\-\s/:])?(?:p|pos|position|place|t|tr|trans|translation|loc|location|tvec|origin)[._\-\s]?([xyz])$/;
const turnName =
	/^(?:.*[._\-\s/:])?(?:q|quat|quaternion|rot|rotation|r|ori|orient|orientation|att|attitude)[._\-\s]?([wxyzijk]|real|scalar)$/;
const placeIndex =
	/^(?:.*[._\-\s/:])?(?:p|pos|position|place|t|trans|translation|loc|location|tvec|origin)[._\-\s[]?([012])\]?$/;
const turnIndex =
	/^(?:.*[._\-\s/:])?(?:q|quat|quaternion|rot|rotation|r|ori|orientation|attitude)[._\-\s[]?([0123])\]?$/;
const timeName =
	/^(?:.*[._\-\s/:])?(?:t|time|timestamp|time[ _-]?stamp|ts|stamp|clock|sec|secs|seconds|msec|ms|usec|us|ns)(?:[._\-\s]?(?:s|sec|seconds|ms|us|ns))?$/;
const deviceName =
	/^(?:.*[._\-\s/:])?(?:device|device[ _-]?(?:id|name)|dev|id|name|serial|tracker|role|object|body|label|source|sensor)$/;

function plainName(name: string): string {
	return name
		.trim()
		.toLowerCase()
		.replaceAll(/[([{]\s*[\p{L}µ°]*\s*[)\]}]/gu, '')
		.replace(/[._\-\s](?:mm|cm|m)$/, '')
		.trim();
}

/** The unit that a name ends with: `x [mm]`, `pos_x_m`. */
function unitOf(name: string): LengthUnit | undefined {
	return /(?:[([{_.\-\s])(mm|cm|m)[)\]}]?$/i.exec(name.trim())?.[1].toLowerCase() as LengthUnit | undefined;
}

/** Whether a row is the names of the columns: no number in it, and enough cells for a pose. */
export function isHeader(cells: readonly string[]): boolean {
	return cells.length >= 7 && cells.every(cell => cell === '' || !Number.isFinite(Number(cell)));
}

/** What the columns are, by their names, else by what stands in them; a sentence about what is missing else. */
export function findPoseColumns(
	names: readonly string[] | undefined,
	rows: readonly (readonly string[])[],
): PoseColumns | string {
	const named = names && byName(names);
	const width = names?.length ?? widthOf(rows);
	const own = rows.filter(row => row.length === width);
	const found = named ?? byNumbers(own, width);
	if (typeof found === 'string') return found;
	const used = new Set([...found.place, ...found.turn]);
	const time = timeColumn(names, own, used);
	const device = deviceColumn(names, own, new Set([...used, ...(time === undefined ? [] : [time])]));
	return {...found, time, device, width};
}

type Pose = Pick<PoseColumns, 'place' | 'turn' | 'order' | 'unit'>;

function byName(names: readonly string[]): Pose | undefined {
	const plain = names.map(plainName);
	const set = (pattern: RegExp, letters: readonly string[]) =>
		letters.map(letter => plain.findIndex(name => pattern.exec(name)?.[1] === letter));
	const isWhole = (found: readonly number[]) => found.every(index => index >= 0);
	const bare = ['x', 'y', 'z'].map(letter => plain.indexOf(letter));
	const scalar = plain.findIndex(
		name => name === 'w' || name === 'real' || turnName.exec(name)?.[1].match(/^(?:w|real|scalar)$/),
	);
	const ijk = ['i', 'j', 'k'].map(letter => plain.indexOf(letter));
	const vectors = [set(turnName, ['x', 'y', 'z']), set(turnName, ['i', 'j', 'k']), ijk];
	const places = [set(placeName, ['x', 'y', 'z']), set(placeIndex, ['0', '1', '2'])];
	let vector = vectors.find(isWhole);
	let place = places.find(isWhole);
	if (vector && !place && isWhole(bare)) place = bare;
	if (!vector && place && isWhole(bare)) vector = bare;
	const unit = place && unitOf(names[place[0]]);
	if (vector && place && scalar >= 0)
		return {place: three(place), turn: four([scalar, ...vector]), order: 'wxyz', unit};
	// Numbered from 0: which of them is the scalar the numbers do not tell.
	const numbered = set(turnIndex, ['0', '1', '2', '3']);
	if (place && isWhole(numbered)) return {place: three(place), turn: four(numbered), order: undefined, unit};
	return undefined;
}

const three = (list: readonly number[]) => [list[0], list[1], list[2]] as const;
const four = (list: readonly number[]) => [list[0], list[1], list[2], list[3]] as const;

function widthOf(rows: readonly (readonly string[])[]): number {
	const counts = new Map<number, number>();
	for (const {length} of rows) counts.set(length, (counts.get(length) ?? 0) + 1);
	return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 0;
}

function byNumbers(rows: readonly (readonly string[])[], width: number): Pose | string {
	let best: {first: number; varied: number} | undefined;
	for (let first = 0; first + 4 <= width; first++) {
		const four = rows.map(row => row.slice(first, first + 4).map(numberOf));
		// A tracker that has lost its way often sends zeros.
		const own = four.filter(each => each.some(value => value !== 0));
		const whole = own.filter(each => Math.abs(Math.hypot(...each) - 1) < unitLength);
		if (own.length === 0 || whole.length < leastShare * own.length) continue;
		const varied = [0, 1, 2, 3].filter(k => whole.some(each => each[k] !== whole[0][k])).length;
		if (best === undefined || varied > best.varied) best = {first, varied};
	}
	if (best === undefined || (best.varied < 2 && rows.length > 1))
		return 'no four neighbouring columns are a quaternion (the sum of their squares 1 in nearly every row)';
	const {first} = best;
	const numeric = (from: number) =>
		from >= 0 && from + 3 <= width && [0, 1, 2].every(k => rows.every(row => Number.isFinite(numberOf(row[from + k]))));
	const place = numeric(first - 3) ? first - 3 : numeric(first + 4) ? first + 4 : undefined;
	if (place === undefined) return 'no three columns beside the quaternion are a position';
	return {
		place: [place, place + 1, place + 2],
		turn: [first, first + 1, first + 2, first + 3],
		order: undefined,
		unit: undefined,
	};
}

function numberOf(cell: string | undefined): number {
	return cell === undefined || cell === '' ? Number.NaN : Number(cell);
}

/** A named time, else the first column that rises in nearly all rows and is no plain count of the rows. */
function timeColumn(
	names: readonly string[] | undefined,
	rows: readonly (readonly string[])[],
	used: ReadonlySet<number>,
) {
	const plain = names?.map(plainName);
	const named = plain?.findIndex((name, index) => !used.has(index) && timeName.test(name)) ?? -1;
	if (named >= 0) return named;
	const width = rows[0]?.length ?? 0;
	for (let column = 0; column < width; column++) {
		if (used.has(column)) continue;
		const times = rows.map(row => timeOf(row[column]));
		const steps = times.slice(1).map((time, index) => time - times[index]);
		const isRising =
			steps.filter(step => step >= 0).length >= leastShare * steps.length && steps.some(step => step > 0);
		if (steps.length >= 2 && isRising && steps.some(step => step !== 1)) return column;
	}
	return undefined;
}

/** Seconds or ticks of a cell: a number, ISO 8601, or a time of the day. NaN for anything else. */
export function timeOf(cell: string | undefined): number {
	if (cell === undefined || cell === '') return Number.NaN;
	const number = Number(cell);
	if (Number.isFinite(number)) return number;
	const clock = /(?:^|[T ])(\d{1,2}):(\d{2}):(\d{2}(?:[.,]\d+)?)/.exec(cell);
	if (!clock) return Number.NaN;
	const day = /^(\d{4})-(\d{2})-(\d{2})/.exec(cell);
	const days = day ? Date.UTC(Number(day[1]), Number(day[2]) - 1, Number(day[3])) / 1000 : 0;
	return days + Number(clock[1]) * 3600 + Number(clock[2]) * 60 + Number(clock[3].replace(',', '.'));
}

/** Whether a column of times is of clocks, whose unit is the second. */
export function isClock(cell: string): boolean {
	return cell !== '' && !Number.isFinite(Number(cell)) && Number.isFinite(timeOf(cell));
}

/** The column that tells things apart: named so, or text, with few values that come again. */
function deviceColumn(
	names: readonly string[] | undefined,
	rows: readonly (readonly string[])[],
	used: ReadonlySet<number>,
) {
	const plain = names?.map(plainName);
	const few = (column: number) => {
		const values = new Set(rows.map(row => row[column]));
		return values.size <= mostDevices && values.size <= Math.max(1, rows.length / 2);
	};
	const named = plain?.findIndex((name, index) => !used.has(index) && deviceName.test(name) && few(index)) ?? -1;
	if (named >= 0) return named;
	const width = rows[0]?.length ?? 0;
	for (let column = 0; column < width; column++) {
		if (used.has(column)) continue;
		const isText = rows.length > 0 && rows.every(row => row[column] !== '' && Number.isNaN(timeOf(row[column])));
		if (isText && few(column)) return column;
	}
	return undefined;
}
