import {Axis, minimumJerk} from './axis.ts';
import type {GloveSpec} from './glove.ts';
import type {Random} from './random.ts';

type Press = {readonly from: number; readonly to: number};

/** What the thumb does with stick and buttons. Each movement returns when it is over, seconds. */
export class ThumbMoves {
	/** Stick position, −1…1, right and down positive. */
	readonly x = new Axis(0);
	readonly y = new Axis(0);
	/** Of each button when it is down, in order. */
	readonly presses: Press[][];

	constructor(
		private readonly glove: GloveSpec,
		private readonly random: Random,
	) {
		this.presses = Array.from({length: glove.buttons.count}, () => []);
	}

	push(start: number, degrees: number, share: number): number {
		if (!this.glove.stick) return start;
		const random = this.random;
		const angle = (degrees * Math.PI) / 180;
		const radius = this.gate(degrees) * share;
		const out = random.uniform(0.1, 0.25);
		this.x.move(start, out, radius * Math.cos(angle));
		this.y.move(start, out, radius * Math.sin(angle));
		const release = start + out + random.uniform(0.1, 0.6);
		// Springs bring the stick back in 60–120 ms, faster than a hand moves it.
		const back = random.uniform(0.06, 0.12);
		this.x.move(release, back, this.restPoint());
		this.y.move(release, back, this.restPoint());
		return release + back + random.uniform(0.35, 0.9);
	}

	around(start: number, times: number): number {
		const {stick} = this.glove;
		if (!stick) return start;
		const random = this.random;
		const turnSeconds = random.uniform(0.8, 2.2);
		const turning = (random.chance(0.5) ? 1 : -1) * ((2 * Math.PI) / turnSeconds);
		const phase = random.uniform(0, 2 * Math.PI);
		const ramp = 0.25;
		const end = start + times * turnSeconds + 2 * ramp;
		const radius = (t: number): number => {
			const degrees = ((phase + turning * (t - start)) * 180) / Math.PI;
			return minimumJerk((t - start) / ramp) * (1 - minimumJerk((t - end + 0.1) / 0.1)) * this.gate(degrees);
		};
		this.x.curve(start, end, t => radius(t) * Math.cos(phase + turning * (t - start)));
		this.y.curve(start, end, t => radius(t) * Math.sin(phase + turning * (t - start)));
		this.x.move(end - 0.1, 0.1, this.restPoint());
		this.y.move(end - 0.1, 0.1, this.restPoint());
		return end + random.uniform(0.4, 0.9);
	}

	press(start: number, button: number, times: number, hertz: number | undefined): number {
		const presses = this.presses[button - 1];
		if (!presses) return start;
		const random = this.random;
		const [shortest, longest] = this.glove.buttons.pressSeconds;
		let t = start + 0.05;
		for (let n = 0; n < times; n++) {
			const held = hertz ? (random.uniform(0.4, 0.6) * 1) / hertz : random.uniform(shortest, longest);
			presses.push({from: t, to: t + held});
			t += hertz ? random.uniform(0.94, 1.06) / hertz : held + random.uniform(0.2, 0.8);
		}
		return t;
	}

	/** Farthest the gate lets the stick go in this direction. */
	gate(degrees: number): number {
		if (this.glove.stick?.gate !== 'square') return 1;
		const angle = (degrees * Math.PI) / 180;
		return 1 / Math.max(Math.abs(Math.cos(angle)), Math.abs(Math.sin(angle)));
	}

	/** Where the stick comes to rest this time, in units of half the throw. */
	private restPoint(): number {
		return this.random.normal(0, 2 * (this.glove.stick?.restScatter ?? 0));
	}
}
