// The definitions of check-values D2 read plainly over a whole log, apart from the engine: trips and whole-hand movements.
// Slow and simple on purpose; times are frame numbers.

/** One way of one channel between turning points. */
export type PlainTrip = {
	readonly finger: number;
	/** The last frame up to a tenth of the way, and the first from nine tenths on. */
	readonly out: number;
	readonly in: number;
	readonly way: number;
};

export type PlainMovement = {
	readonly out: number;
	readonly in: number;
	readonly way: number;
	readonly members: readonly number[];
};

/** Trips of at least `least` counts of one column. */
export function plainTrips(column: readonly number[], finger: number, least: number): PlainTrip[] {
	// Turning points: the farthest reading since the last one, once the readings have come back from it by `least`.
	const turns: number[] = [];
	let [low, high] = [0, 0];
	for (let i = 0; i < column.length; i++) {
		const way = turns.length === 0 ? 0 : turns.length % 2 === firstUp(column, turns[0], least) ? 1 : -1;
		if (way <= 0 && column[i] < column[low]) low = i;
		if (way >= 0 && column[i] > column[high]) high = i;
		if (way <= 0 && column[i] - column[low] >= least && column[i] > column[low]) {
			turns.push(low);
			high = i;
		} else if (way >= 0 && column[high] - column[i] >= least && column[i] < column[high]) {
			turns.push(high);
			low = i;
		}
	}
	if (turns.length === 0) return [];
	const last = turns.length % 2 === firstUp(column, turns[0], least) ? high : low;
	return [...turns, last].slice(1).map((end, k): PlainTrip => {
		const start = turns[k];
		const way = column[end] - column[start];
		const gone = (frame: number): number => (column[frame] - column[start]) / way;
		let [out, arrived] = [start, end];
		for (let frame = start; frame <= end; frame++) {
			if (gone(frame) <= 0.1) out = frame;
			if (gone(frame) >= 0.9) {
				arrived = frame;
				break;
			}
		}
		return {finger, out, in: arrived, way};
	});
}

/** 1 where the first trip goes up, so that odd counts of turns are on the way up; 0 where it goes down. */
function firstUp(column: readonly number[], first: number, least: number): 0 | 1 {
	for (let i = first + 1; i < column.length; i++) {
		if (column[i] - column[first] >= least && column[i] > column[first]) return 1;
		if (column[first] - column[i] >= least && column[i] < column[first]) return 0;
	}
	return 0;
}

/** Whole-hand movements seen from each finger; `rate` in frames a second. */
export function plainMovements(frames: readonly (readonly number[])[], rate: number): PlainMovement[][] {
	const columns = frames[0].map((_, f) => frames.map(frame => frame[f]));
	const spans = columns.map(column => Math.max(...column) - Math.min(...column));
	const widest = Math.max(...spans);
	const trips = columns.flatMap((column, f) => plainTrips(column, f, 0.2 * spans[f]));
	const far = trips
		.filter(({finger, way}) => Math.abs(way) >= Math.max(0.4 * spans[finger], 0.45 * widest))
		.sort((one, other) => one.out - other.out || one.finger - other.finger);
	const travelled = columns.map((_, f) => f).filter(f => trips.some(({finger}) => finger === f));
	const sense = new Map<number, number>();
	for (const group of groupsOf(far, Math.min(3, Math.max(2, travelled.length)), rate)) {
		const balance = group.reduce((sum, {finger, way}) => sum + Math.sign(way) * (sense.get(finger) ?? 0), 0);
		for (const {finger, way} of group)
			if (!sense.has(finger)) sense.set(finger, Math.sign(way) * (balance >= 0 ? 1 : -1));
	}
	return columns.map((_, f) => {
		const others = travelled.filter(other => other !== f);
		if (others.length < 2) return [];
		const need = others.length === 2 ? 2 : Math.max(3, Math.ceil(0.6 * others.length));
		return [1, -1]
			.flatMap(way => {
				const theirs = far.filter(t => t.finger !== f && Math.sign(t.way) * (sense.get(t.finger) ?? 0) === way);
				return groupsOf(theirs, need, rate).map(group => ({
					out: group[0].out,
					in: Math.max(...group.map(trip => trip.in)),
					way,
					members: group.map(({finger}) => finger).sort(),
				}));
			})
			.sort((one, other) => one.out - other.out);
	});
}

/** Runs of at least `need` fingers that set out within 0.6 s of the first. */
function groupsOf(trips: readonly PlainTrip[], need: number, rate: number): PlainTrip[][] {
	const groups: PlainTrip[][] = [];
	for (let i = 0; i < trips.length; ) {
		const together = trips.slice(i).filter(({out}) => out - trips[i].out <= 0.6 * rate + 1e-9);
		const group = together.filter((trip, k) => together.findIndex(({finger}) => finger === trip.finger) === k);
		if (group.length >= need) groups.push(group);
		i += group.length >= need ? together.length : 1;
	}
	return groups;
}
