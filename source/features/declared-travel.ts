/** What a sheet says of one finger: counts at the ends of its travel, and whether its reading falls where it bends. */
export type DeclaredFinger = {readonly min?: number; readonly max?: number; readonly inverted?: boolean};

/** By channel name. */
export type DeclaredFingers = Readonly<Record<string, DeclaredFinger>>;

/** What is declared of each analog channel, by place; NaN where nothing is. Never changed. */
export class DeclaredTravel {
	/** Counts at the lower and the upper end. */
	readonly min: Float64Array;
	readonly max: Float64Array;
	/** +1 where the reading rises as the finger bends, −1 where it falls. */
	readonly sense: Float64Array;

	/** `names`: of the analog channels, in scan order. */
	constructor(names: readonly string[], fingers: DeclaredFingers) {
		const said = names.map(name => (Object.hasOwn(fingers, name) ? fingers[name] : {}));
		this.min = Float64Array.from(said, ({min}) => min ?? Number.NaN);
		this.max = Float64Array.from(said, ({max}) => max ?? Number.NaN);
		this.sense = Float64Array.from(said, ({inverted}) => (inverted === undefined ? Number.NaN : inverted ? -1 : 1));
	}

	/** Whether both ends of a channel's travel are declared. */
	has(a: number): boolean {
		return this.max[a] > this.min[a];
	}

	/** From one end to the other, counts; NaN where not both are declared. */
	spanOf(a: number): number {
		return this.max[a] - this.min[a];
	}
}
