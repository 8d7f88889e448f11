/** A list of numbers that grows, at eight bytes each. */
export class GrownFloats {
	length = 0;
	private held = new Float64Array(1024);

	push(value: number): void {
		if (this.length === this.held.length) {
			const more = new Float64Array(2 * this.held.length);
			more.set(this.held);
			this.held = more;
		}

		this.held[this.length++] = value;
	}

	/** The numbers so far; valid until the next push. */
	get values(): Float64Array {
		return this.held.subarray(0, this.length);
	}
}
