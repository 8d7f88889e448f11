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
	const {pack, done, used, plainToo} = how;
	if (typeof next !== 'object' || next === null) return next;
	if (done.has(next)) return done.get(next);
	const finish = <T>(made: T): T => {
		done.set(next, made);
		return made;
	};
	if (next instanceof PagedArray) return finish(next.unpack());
	if (ArrayBuffer.isView(next)) return finish(pack(next as View));
	if (Array.isArray(next)) {
		const list: unknown[] = finish([]);
		for (const [index, value] of next.entries())
			list.push(renew(Array.isArray(was) ? was[index] : undefined, value, how));
		return list;
	}

	if (next instanceof Map) {
		const map = finish(new Map());
		for (const [key, value] of next) map.set(renew(undefined, key, how), renew(undefined, value, how));
		return map;
	}

	if (next instanceof Set) {
		const set = finish(new Set());
		for (const value of next) set.add(renew(undefined, value, how));
		return set;
	}

	const prototype = Object.getPrototypeOf(next);
	const keep =
		typeof was === 'object' &&
		was !== null &&
		(plainToo || prototype !== Object.prototype) &&
		Object.getPrototypeOf(was) === prototype &&
		!used.has(was);
	const target = finish((keep ? was : Object.setPrototypeOf({...next}, prototype)) as Fields);
	used.add(target);
	for (const [key, value] of Object.entries(next)) target[key] = renew(keep ? target[key] : undefined, value, how);
	if (keep) for (const key of Object.keys(target)) if (!(key in next)) delete target[key];
	return target;
}
