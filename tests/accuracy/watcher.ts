import type {Look} from './diagnosis.ts';
import type {Expectation, Must} from './expectation.ts';

/** How long after the evidence is complete a check may still say what it said before, seconds: the delay that is allowed. */
const graceSeconds = 5;

const isOn = ({channels}: Must, channel: string | null): boolean =>
	channels === 'any' || channel === null || channels.includes(channel);

/**
 * Looks at a session while it runs and notes what no right diagnosis says at any time:
 * a check that is clear before its chances are full, beside an open finding of it, or although its fault is there;
 * an open pin that is proven.
 */
export class Watcher {
	readonly slips = new Set<string>();

	constructor(private readonly expectation: Expectation) {}

	/** `isLast`: the session is over. */
	look({t, findings, channels, checks = []}: Look, isLast = false): void {
		const {musts, unseen} = this.expectation;
		for (const row of checks) {
			if (row.state !== 'clear') continue;
			const where = `${row.code}${row.channel === null ? '' : ` on ${row.channel}`}`;
			if (row.seen < row.needed) this.slips.add(`${where} clear with ${row.seen} of ${row.needed}`);
			if (findings.some(({code, channel, to}) => code === row.code && channel === row.channel && to === null)) {
				this.slips.add(`${where} clear beside its finding`);
			}
			// A stick is stuck at a rail after three seconds, moved or not.
			const needsNone = row.code.startsWith('stuck-') && row.channel?.startsWith('stick-') === true;
			if (unseen.includes(row.code) && !needsNone) this.slips.add(`${where} clear though nothing has moved`);
			for (const must of musts) {
				if (must.codes.length > 1 || must.codes[0] !== row.code || !isOn(must, row.channel)) continue;
				// On one of several channels: the others may be clear.
				if (must.channels === 'any' || must.channels.filter(channel => channel !== null).length > 1) continue;
				if (this.isThere(must, t, isLast)) this.slips.add(`${where} clear though it is there`);
			}
		}
		for (const must of musts) {
			const {from, until} = must;
			if (!must.isOpenPin || must.channels === 'any' || from === null) continue;
			if (t < from + (from > 0 ? graceSeconds : 0) || (until !== null && t >= until)) continue;
			for (const {name, state} of channels) {
				if (state === 'proven' && must.channels.includes(name)) this.slips.add(`${name} proven though open`);
			}
		}
	}

	/** From the first frame on, or from where it began and could be known; where neither is known, at the end. */
	private isThere({from, evidenceAt, until}: Must, t: number, isLast: boolean): boolean {
		if (until !== null && t >= until) return false;
		return isLast || from === 0 || (evidenceAt !== null && t >= evidenceAt + graceSeconds);
	}
}
