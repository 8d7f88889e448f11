/** A straight line: y at x = 0, and its slope. */
export type Line = {readonly intercept: number; readonly slope: number};

/**
 * The lower convex hull of points whose x never falls (monotone chain, Andrew 1979): amortised constant time a point. Of a
 * board's clock against arrival times, the edge of the hull above the mean time is the line below all delays that has the
 * least area to them (Zhang, Liu, Xia, INFOCOM 2002; as a linear programme: Moon, Skelly, Towsley, INFOCOM 1999).
 */
export class LowerHull {
	private readonly x: number[] = [];
	private readonly y: number[] = [];
	private sum = 0;
	private count = 0;

	add(x: number, y: number): void {
		this.sum += x;
		this.count++;
		const {x: xs, y: ys} = this;
		if (xs.length > 0 && x === xs[xs.length - 1]) {
			if (y >= ys[ys.length - 1]) return;
			xs.pop();
			ys.pop();
		}

		while (xs.length > 1 && turnsDown(xs, ys, x, y)) {
			xs.pop();
			ys.pop();
		}

		xs.push(x);
		ys.push(y);
	}

	/** Corners of the hull, from the left. */
	get corners(): readonly (readonly [x: number, y: number])[] {
		return this.x.map((x, i) => [x, this.y[i]]);
	}

	/** The line through the edge that spans the mean of all x; level through a single point, undefined without one. */
	line(): Line | undefined {
		const {x, y} = this;
		if (x.length === 0) return undefined;
		if (x.length === 1) return {intercept: y[0], slope: 0};
		const mean = this.sum / this.count;
		let right = 1;
		while (right < x.length - 1 && x[right] < mean) right++;
		const slope = (y[right] - y[right - 1]) / (x[right] - x[right - 1]);
		return {intercept: y[right] - slope * x[right], slope};
	}
}

/** Whether the last corner lies on or above the line from the one before it to the new point. */
function turnsDown(xs: readonly number[], ys: readonly number[], x: number, y: number): boolean {
	const ax = xs[xs.length - 2];
	const ay = ys[ys.length - 2];
	const bx = xs[xs.length - 1];
	const by = ys[ys.length - 1];
	return (bx - ax) * (y - ay) - (by - ay) * (x - ax) <= 0;
}
