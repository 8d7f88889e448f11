import {itemAt} from '../item-at.ts';
import type {Snapshot} from '../session/snapshot.ts';

/**
 * The quickest frame of so long a time is the measure. Short, because board and computer run apart: by up to 0.5 % with
 * a ceramic resonator (data sheets of such resonators), which is 50 ms in this time.
 */
const windowSeconds = 10;

/** Four times what the clocks may run apart in that time; below it a delay cannot be told from them. */
const tellableSeconds = 0.2;

/**
 * How far a link lags behind, from the board's own clock: a radio link that has to send again hands frames over late,
 * in order and none missing, so that nothing but the board's clock tells. What is measured is the lag over the quickest
 * frame of the last ten seconds.
 */
export class LinkDelay {
	#quickest: {readonly t: number; readonly lead: number}[] = [];
	#clock = Number.NaN;

	/** Takes in a state. Seconds by which its newest frame is late; null without a clock, or where too little to tell. */
	take(snapshot: Snapshot): number | null {
		const place = snapshot.layout?.channels.findIndex(channel => channel.role === 'clock') ?? -1;
		const unit = snapshot.layout?.channels[place]?.clockUnitSeconds;
		const reading = snapshot.channels[place]?.now;
		if (unit === undefined || reading === undefined || Number.isNaN(reading)) return null;
		const clock = reading * unit;
		// Begun anew, wrapped around, or the replay went elsewhere: nothing before counts.
		if (!(Math.abs(clock - this.#clock) < windowSeconds) || clock < this.#clock) this.#quickest = [];
		this.#clock = clock;
		const t = snapshot.t - snapshot.link.silentForSeconds;
		const lead = t - clock;
		// Those that are older and slower can never be the quickest again.
		while (this.#quickest.length > 0 && this.#quickest.at(-1)!.lead >= lead) this.#quickest.pop();
		this.#quickest.push({t, lead});
		while (itemAt(this.#quickest, 0).t < t - windowSeconds) this.#quickest.shift();
		const late = lead - itemAt(this.#quickest, 0).lead;
		return late >= tellableSeconds ? late : null;
	}
}
