/**
 * A board on a bench with reels that are wired one by one: no hand is in the glove, so pulling one cord moves nothing
 * else, and an input whose wire is off takes over half of the pin that the converter read before it, wanders and picks
 * up the mains. Written after the model of the bench that stories were told with; not the product's simulator.
 */
export type BenchOptions = {
	/** Frames a second. */
	readonly rate?: number;
	readonly seed?: number;
	/** Columns whose wiper is not wired: 0 to 4 fingers, 5 and 6 the stick. */
	readonly open?: readonly number[];
};

/** What is done for a while: cords that are pulled out and let go, the stick's way −1…1, buttons that are held in. */
export type Deed = {
	readonly seconds: number;
	readonly cords?: readonly number[];
	readonly stick?: readonly [x: number, y: number];
	readonly buttons?: readonly number[];
};

const pullSeconds = 1;
const pauseSeconds = 0.35;
const pressSeconds = 0.2;

/** Shares of full scale: where each input rests, and where a pulled cord takes it. */
const rests = [0.22, 0.15, 0.14, 0.16, 0.18, 0.5, 0.5];
const ends = [0.68, 0.86, 0.9, 0.84, 0.82, 0.5, 0.5];

const fullScale = 1023;
const jitter = 0.0008;
/** What an open input does: of the pin before it, of its own wander, of the mains. */
const ghost = 0.55;
const wander = {share: 0.35, step: 0.006, middle: 0.45, pull: 0.003};
const hum = {share: 0.05, hertz: 50.03};
const openJitter = 0.006;

export class BenchFeeder {
	readonly rate: number;
	/** Columns whose wire is off; may change while it sends. */
	readonly open: Set<number>;
	#frames = 0;
	#deed: Deed | undefined;
	#deedFrames = 0;
	readonly #deeds: Deed[] = [];
	readonly #wanders: number[];
	#seed: number;

	constructor({rate = 100, seed = 7, open = []}: BenchOptions = {}) {
		this.rate = rate;
		this.open = new Set(open);
		this.#seed = seed >>> 0;
		this.#wanders = rests.map(() => this.#random());
	}

	/** True once all that was asked for is done. */
	get isIdle(): boolean {
		return this.#deed === undefined && this.#deeds.length === 0;
	}

	do(...deeds: readonly Deed[]): void {
		this.#deeds.push(...deeds);
	}

	/** Pulls a cord out and lets it go, so many times. */
	pull(cord: number, times = 1): void {
		for (let time = 0; time < times; time++) this.do({seconds: pullSeconds, cords: [cord]}, {seconds: pauseSeconds});
	}

	press(button: number, times = 1): void {
		for (let time = 0; time < times; time++)
			this.do({seconds: pressSeconds, buttons: [button]}, {seconds: pauseSeconds});
	}

	push(x: number, y: number): void {
		this.do({seconds: pullSeconds, stick: [x, y]}, {seconds: pauseSeconds});
	}

	/** The next frame as the board prints it. */
	next(): string {
		if (this.#deed === undefined || this.#deedFrames >= this.#deed.seconds * this.rate) {
			this.#deed = this.#deeds.shift();
			this.#deedFrames = 0;
		}

		const t = this.#frames++ / this.rate;
		const share = this.#deed === undefined ? 0 : this.#deedFrames++ / this.rate / this.#deed.seconds;
		const bent = 0.5 - 0.5 * Math.cos(2 * Math.PI * Math.min(1, share));
		let before = 0.3;
		const readings = rests.map((rest, column) => {
			const reading = this.open.has(column)
				? this.#openReading(column, before, t)
				: rest + this.#way(column, rest) * bent + jitter * this.#noise();
			before = Math.min(1, Math.max(0, reading));
			return Math.round(before * fullScale);
		});
		const buttons = [0, 1].map(button => (this.#deed?.buttons?.includes(button) ? 0 : 1));
		return `${[...readings, ...buttons].join(',')}\r\n`;
	}

	#way(column: number, rest: number): number {
		const {cords = [], stick} = this.#deed ?? {};
		if (column >= 5) return stick === undefined ? 0 : 0.48 * stick[column - 5];
		return cords.includes(column) ? ends[column] - rest : 0;
	}

	#openReading(column: number, before: number, t: number): number {
		const own = this.#wanders[column] + wander.step * this.#noise();
		this.#wanders[column] = own + (wander.middle - own) * wander.pull;
		const mains = hum.share * Math.sin(2 * Math.PI * hum.hertz * t + 1);
		return ghost * before + wander.share * this.#wanders[column] + mains + openJitter * this.#noise();
	}

	/** A linear congruential generator with the constants of C's example `rand` (ISO/IEC 9899, 7.22.2). */
	#random(): number {
		this.#seed = (Math.imul(this.#seed, 1103515245) + 12345) >>> 0;
		return this.#seed / 2 ** 32;
	}

	/** Nearly normal: the sum of six. */
	#noise(): number {
		let sum = -3;
		for (let i = 0; i < 6; i++) sum += this.#random();
		return sum;
	}
}
