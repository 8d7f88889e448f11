import type {Session} from '../session/session.ts';

/** Rings change in few places between checkpoints; pages of so many values are shared where they don't. */
const pageLength = 512;

type View = Float64Array & {readonly constructor: new (length: number) => View};
type Page = Int16Array | Float32Array | View;
type Fields = Record<string, unknown>;

/** A typed array in pages. */
class PagedArray {
	readonly type: View['constructor'];
	readonly length: number;
	readonly pages: readonly Page[];
	/** The contents, as long as the next checkpoint may be compared with them. */
	latest: View | undefined;

	constructor(view: View, before: PagedArray | undefined) {
		this.type = view.constructor;
		this.length = view.length;
		this.latest = view.slice() as View;
		const known = before?.type === this.type && before.length === this.length ? before : undefined;
		const [now, then] = [bytesOf(this.latest), known?.latest && bytesOf(known.latest)];
		const size = pageLength * view.BYTES_PER_ELEMENT;
		this.pages = Array.from({length: Math.ceil(view.length / pageLength)}, (_, index) => {
			const [from, to] = [index * size, Math.min((index + 1) * size, now.length)];
			const page = known?.pages[index];
			if (page && then && now.compare(then, from, to, from, to) === 0) return page;
			return narrow(view.subarray(index * pageLength, (index + 1) * pageLength) as View);
		});
		if (before) before.latest = undefined;
	}

	/** An array of the original's type and contents. */
	unpack(): View {
		const view = new this.type(this.length);
		for (const [index, page] of this.pages.entries()) view.set(page, index * pageLength);
		return view;
	}
}

const bytesOf = ({buffer, byteOffset, byteLength}: View) => Buffer.from(buffer, byteOffset, byteLength);

/** A copy of a page, in two or four bytes a value where that loses nothing: readings are whole numbers. */
function narrow(values: View): Page {
	for (const type of [Int16Array, Float32Array]) {
		if (type.BYTES_PER_ELEMENT >= values.BYTES_PER_ELEMENT) break;
		const page = new type(values.length);
		page.set(values);
		let index = 0;
		while (index < page.length && Object.is(page[index], values[index])) index++;
		if (index === page.length) return page;
	}

	return values.slice() as View;
}

/**
 * A session's state at one moment, kept small: what is equal to the checkpoint before is shared with it. Nearly all of
 * a session is rings of readings, of which twenty seconds change a fraction.
 */
export class Checkpoint {
	readonly #state: Session;
	readonly #arrays: PagedArray[] = [];

	constructor(session: Session, before?: Checkpoint) {
		const known = before === undefined ? [] : before.#arrays;
		const pack = (view: View) => {
			// The same objects in the same order: the array at this place is the one of before.
			const packed = new PagedArray(view, known[this.#arrays.length]);
			this.#arrays.push(packed);
			return packed;
		};
		this.#state = renew(undefined, session, renewal(pack)) as Session;
	}

	/**
	 * Gives a session this state. The session keeps its objects and gets new contents: copies of objects are of another
	 * layout in memory than those their constructors made, and code that meets both runs at a third of its speed.
	 */
	restoreInto(session: Session): void {
		const {layoutNow} = this.#state;
		// Lets the session make the objects that go with the layout.
		if (layoutNow !== null) session.layout(0, layoutNow);
		const all = renewal(packed => packed);
		all.done.set(this.#state, session);
		for (const [key, value] of Object.entries(this.#state)) {
			const fields = session as unknown as Fields;
			fields[key] = renew(fields[key], value, {...all, plainToo: inner.has(key)});
		}
	}
}

/** Fields of a session of which no snapshot holds a part. */
const inner: ReadonlySet<string> = new Set(['link', 'features', 'history', 'framer']);

type Renewal = {
	readonly pack: (view: View) => unknown;
	/** What each object has become: references that occur twice are one again. */
	readonly done: Map<unknown, unknown>;
	/** Objects that have new contents already. */
	readonly used: Set<unknown>;
	/** Plain objects are kept too. */
	readonly plainToo: boolean;
};

const renewal = (pack: Renewal['pack']): Renewal => ({pack, done: new Map(), used: new Set(), plainToo: false});

/**
 * State equal to `next`, made in the objects of `was` where these are of the same class, else in new ones. Snapshots
 * hold on to plain objects, arrays and typed arrays of a session, so those are new, but for plain objects where asked.
 */
function renew(was: unknown, next: unknown, how: Renewal): unknown {
	if (typeof next !== 'object' || next === null) return next;
	if (how.done.has(next)) return how.done.get(next);
	if (next instanceof PagedArray) return noted(next, next.unpack(), how);
	if (ArrayBuffer.isView(next)) return noted(next, how.pack(next as View), how);
	if (Array.isArray(next)) return renewList(was, next, how);
	if (next instanceof Map) return renewMap(next, how);
	if (next instanceof Set) return renewSet(next, how);
	return renewObject(was, next, how);
}

/** Notes what an object has become, before its contents are made: they may refer to it. */
function noted<T>(next: object, made: T, {done}: Renewal): T {
	done.set(next, made);
	return made;
}

function renewList(was: unknown, next: readonly unknown[], how: Renewal): unknown[] {
	const list: unknown[] = noted(next, [], how);
	for (const [index, value] of next.entries())
		list.push(renew(Array.isArray(was) ? was[index] : undefined, value, how));
	return list;
}

function renewMap(next: ReadonlyMap<unknown, unknown>, how: Renewal): Map<unknown, unknown> {
	const map = noted(next, new Map(), how);
	for (const [key, value] of next) map.set(renew(undefined, key, how), renew(undefined, value, how));
	return map;
}

function renewSet(next: ReadonlySet<unknown>, how: Renewal): Set<unknown> {
	const set = noted(next, new Set(), how);
	for (const value of next) set.add(renew(undefined, value, how));
	return set;
}

function renewObject(was: unknown, next: object, how: Renewal): Fields {
	const keep = mayKeep(was, next, how);
	const target: Fields = noted(next, keep ? was : Object.setPrototypeOf({...next}, Object.getPrototypeOf(next)), how);
	how.used.add(target);
	for (const [key, value] of Object.entries(next)) target[key] = renew(keep ? target[key] : undefined, value, how);
	if (keep) for (const key of Object.keys(target)) if (!(key in next)) delete target[key];
	return target;
}

/** Whether an object may get the contents of another: of the same class, not taken yet, and no plain one that is held elsewhere. */
function mayKeep(was: unknown, next: object, {used, plainToo}: Renewal): was is Fields {
	if (typeof was !== 'object' || was === null || used.has(was)) return false;
	const prototype = Object.getPrototypeOf(next);
	return Object.getPrototypeOf(was) === prototype && (plainToo || prototype !== Object.prototype);
}
