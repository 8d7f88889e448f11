import {CannotError} from '../cannot-error.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';
import {findPoseColumns, isClock, isHeader, lookedAt, type PoseColumns, timeOf} from './pose-columns.ts';
import {findSeparator, type PoseLine, type Separator, splitPoseLine} from './pose-lines.ts';

/** Rows of one thing as they were read: nothing turned, scaled or left out yet. */
export type RawPoses = {
	readonly name: string | null;
	/** As they stand in the log; when they came where the log has none. NaN where unreadable. */
	readonly t: number[];
	/** Three a row, unit of the log. */
	readonly places: number[];
	/** Four a row, in the order of `columns.turn`. */
	readonly turns: number[];
};

export type ReadPoses = {
	readonly columns: PoseColumns;
	readonly separator: Separator;
	readonly hasNames: boolean;
	/** Times are those of clocks, in seconds. */
	readonly isClock: boolean;
	readonly devices: ReadonlyMap<string, RawPoses>;
	/** Lines that are no row of the table. */
	readonly odd: number;
	readonly rows: number;
};

/**
 * Takes a log of poses as it comes, whole or in pieces; finds out what its columns are from the first rows.
 * Comments (`#`, `//`, `%`) and blank lines are no rows.
 */
export class PoseReader {
	#rest = '';
	#separator: Separator | undefined;
	#names: readonly string[] | undefined;
	#waiting: {line: string; t: number | undefined}[] = [];
	#columns: PoseColumns | undefined;
	#problem: string | undefined;
	#isClock = false;
	readonly #devices = new Map<string, RawPoses>();
	#odd = 0;
	#rows = 0;

	/** `arrived`: seconds of arrival, used where the log has no times of its own. */
	push(text: string, arrived?: number): void {
		const whole = this.#rest + text;
		const lines = whole.split(/\r\n|\n|\r(?!$)/);
		this.#rest = lines.pop() ?? '';
		for (const line of lines) this.#take(line, arrived);
	}

	end(): void {
		if (this.#rest !== '') this.#take(this.#rest, undefined);
		this.#rest = '';
		if (this.#columns === undefined) this.#settle();
	}

	/** What has been read; undefined until the columns are known. */
	get read(): ReadPoses | undefined {
		return (
			this.#columns && {
				columns: this.#columns,
				separator: this.#separator!,
				hasNames: this.#names !== undefined,
				isClock: this.#isClock,
				devices: this.#devices,
				odd: this.#odd,
				rows: this.#rows,
			}
		);
	}

	/** Why the columns could not be found, once there was enough to tell. */
	get problem(): string | undefined {
		return this.#problem;
	}

	/** Looks at what there is now, however little, as a live page must. */
	settle(): void {
		if (this.#columns === undefined && this.#waiting.length > 0) this.#settle();
	}

	#take(line: string, t: number | undefined): void {
		if (this.#columns) {
			this.#row(line, t);
			return;
		}
		this.#waiting.push({line, t});
		if (this.#waiting.length >= lookedAt) this.#settle();
	}

	#settle(): void {
		const lines = this.#waiting.map(({line}) => line);
		this.#separator = findSeparator(lines);
		const split = lines.map(line => splitPoseLine(line, this.#separator!));
		const header = split.findIndex(each => each && !each.names && isHeader(each.cells));
		this.#names = header >= 0 ? split[header]!.cells : mostNames(split);
		const rows = split.flatMap((each, index) => (each && index > header ? [each.cells] : []));
		const found = findPoseColumns(this.#names, rows);
		if (typeof found === 'string') {
			this.#problem = found;
			return;
		}
		this.#problem = undefined;
		this.#columns = found;
		this.#isClock = found.time !== undefined && rows.some(row => isClock(row[found.time!] ?? ''));
		const waiting = this.#waiting.slice(header + 1);
		this.#waiting = [];
		for (const {line, t} of waiting) this.#row(line, t);
	}

	#row(line: string, arrived: number | undefined): void {
		const split = splitPoseLine(line, this.#separator!);
		if (split === undefined) {
			if (line.trim() !== '' && this.#separator === 'json') this.#odd++;
			return;
		}
		const columns = this.#columns!;
		const cells = split.names ? byNames(split, this.#names!) : split.cells;
		if (cells.length !== columns.width) {
			this.#odd++;
			return;
		}
		const {place, turn} = columns;
		const x = numberAt(cells, place[0]);
		const y = numberAt(cells, place[1]);
		const z = numberAt(cells, place[2]);
		const a = numberAt(cells, turn[0]);
		const b = numberAt(cells, turn[1]);
		const c = numberAt(cells, turn[2]);
		const d = numberAt(cells, turn[3]);
		if (!Number.isFinite(x + y + z + a + b + c + d)) {
			this.#odd++;
			return;
		}
		this.#rows++;
		const name = columns.device === undefined ? '' : (cells[columns.device] ?? '');
		let device = this.#devices.get(name);
		if (device === undefined) {
			device = {name: columns.device === undefined ? null : name, t: [], places: [], turns: []};
			this.#devices.set(name, device);
		}
		device.t.push(columns.time === undefined ? (arrived ?? Number.NaN) : timeOf(cells[columns.time]));
		device.places.push(x, y, z);
		device.turns.push(a, b, c, d);
	}
}

function numberAt(cells: readonly string[], index: number): number {
	const cell = cells[index];
	return cell === undefined || cell === '' ? Number.NaN : Number(cell);
}

/** JSON objects may come in different shapes: the names that most of them have. */
function mostNames(split: readonly (PoseLine | undefined)[]): readonly string[] | undefined {
	const counts = new Map<string, {names: readonly string[]; count: number}>();
	for (const each of split) {
		if (!each?.names) continue;
		const key = each.names.join('\n');
		const known = counts.get(key);
		counts.set(key, {names: each.names, count: (known?.count ?? 0) + 1});
	}
	return [...counts.values()].sort((a, b) => b.count - a.count)[0]?.names;
}

function byNames({names, cells}: PoseLine, wanted: readonly string[]): readonly string[] {
	if (names!.length === wanted.length && names!.every((name, index) => name === wanted[index])) return cells;
	return wanted.map(name => cells[names!.indexOf(name)] ?? '');
}

/** The rows of the thing that is meant. Throws `CannotError` where there are several and none is named, or none of that name. */
export function chooseDevice(
	read: ReadPoses,
	wanted: string | undefined,
	source: string,
	option = '--device',
): RawPoses {
	const all = [...read.devices].sort((a, b) => b[1].t.length - a[1].t.length);
	if (all.length === 0) throw new CannotError(`${source} holds no pose: none of its rows has all seven numbers.`);
	const list = () => listText(all.map(([name, {t}]) => `${escapeText(name, 40)} (${t.length} rows)`));
	if (wanted === undefined) {
		if (all.length === 1) return all[0][1];
		throw new CannotError(
			`${source} holds the poses of ${all.length} things: ${list()}. Name the tracker with ${option}.`,
		);
	}
	const found = read.devices.get(wanted);
	if (found) return found;
	throw new CannotError(
		read.columns.device === undefined
			? `${option} ${escapeText(wanted, 40)}: ${source} has no column that tells things apart, so leave it out.`
			: `${option} ${escapeText(wanted, 40)}: ${source} has no rows of that name. It holds ${list()}.`,
	);
}
