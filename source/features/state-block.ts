type StateArray = Float64Array | Int32Array | Uint8Array;

/**
 * Where the core keeps what it knows: every array of numbers that changes while frames come in is handed out here, so that
 * all of it can be copied and put back. An owner holds no other state: a count of its own is an array of length 1.
 */
export class StateBlock {
	private readonly arrays: StateArray[] = [];

	/** `length` numbers, each `fill` at first. */
	floats(length: number, fill = 0): Float64Array {
		return this.keep(new Float64Array(length), fill);
	}

	/** `length` whole numbers of 32 bits. */
	ints(length: number, fill = 0): Int32Array {
		return this.keep(new Int32Array(length), fill);
	}

	/** `length` numbers from 0 to 255. */
	bytes(length: number, fill = 0): Uint8Array {
		return this.keep(new Uint8Array(length), fill);
	}

	/** What all arrays hold now. */
	copy(): readonly StateArray[] {
		return this.arrays.map(array => array.slice());
	}

	/** Puts back what `copy` gave, into the same arrays; of another block's copy it is a RangeError. */
	putBack(copy: readonly StateArray[]): void {
		if (copy.length !== this.arrays.length) throw new RangeError('a copy of another state');
		for (const [i, array] of this.arrays.entries()) array.set(copy[i] as never);
	}

	private keep<T extends StateArray>(array: T, fill: number): T {
		if (fill !== 0) array.fill(fill);
		this.arrays.push(array);
		return array;
	}
}
