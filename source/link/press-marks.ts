/** A press is told from a flicker, and two presses from each other, by so long a quiet time (`button-features.ts`). */
const quietSeconds = 0.06;

/** Finds presses of one column: changes away from the state it rests in. */
export class PressMarks {
	readonly times: number[] = [];
	private rest = Number.NaN;
	private wasPressed = false;
	private quietFrom = Number.NEGATIVE_INFINITY;

	take(t: number, value: number): void {
		if (Number.isNaN(value)) return;
		if (Number.isNaN(this.rest)) this.rest = value;
		const isPressed = value !== this.rest;
		if (isPressed && !this.wasPressed && t - this.quietFrom >= quietSeconds) this.times.push(t);
		if (isPressed !== this.wasPressed) this.quietFrom = t;
		this.wasPressed = isPressed;
	}
}
