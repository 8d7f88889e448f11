import type {Random} from '../../../source/simulator/random.ts';
import type {Line} from './lines.ts';

/**
 * What a receiver set to another speed makes of a line: each byte is a start bit, eight bits from the lowest, a stop
 * bit (check-values U1); the receiver begins at a falling edge and looks at the middle of its own bits.
 */
export function readAtOtherSpeed(lines: readonly Line[], sentBaud: number, readBaud: number): Line[] {
	const step = sentBaud / readBaud;
	return lines.map(line => {
		const bits: number[] = [];
		for (const byte of Buffer.from(`${line.text}\r\n`)) {
			bits.push(0);
			for (let n = 0; n < 8; n++) bits.push((byte >> n) & 1);
			bits.push(1);
		}
		const at = (place: number): number => bits[Math.floor(place)] ?? 1;
		const read: number[] = [];
		let place = 0;
		while (place < bits.length) {
			if (at(place) === 1) {
				place++;
				continue;
			}
			let byte = 0;
			for (let n = 0; n < 8; n++) byte |= at(place + (1.5 + n) * step) << n;
			read.push(byte);
			// The next start bit is looked for from the middle of the stop bit on.
			place = Math.max(place + 1, Math.floor(place + 9.5 * step));
			while (place < bits.length && at(place) === 0 && at(place - 1) === 0) place++;
		}
		return {...line, bytes: Uint8Array.from(read)};
	});
}

/** A receiver too slow to empty its buffer loses bytes, a few at a time, line ends among them. `share` of the lines are hit. */
export function loseBytes(lines: readonly Line[], share: number, random: Random): Line[] {
	const kept: Line[] = [];
	let begun = '';
	for (const [k, line] of lines.entries()) {
		let text = begun + line.text;
		begun = '';
		if (k > 4 && random.chance(share)) {
			const from = random.integer(1, line.text.length - 1);
			const length = random.integer(3, 14);
			const left = text.length - from;
			if (length >= left + 2) {
				// The line's end is gone too: the next one goes on where this one stopped.
				begun = text.slice(0, from);
				continue;
			}
			text = text.slice(0, from) + text.slice(from + length);
		}
		kept.push({...line, text});
	}
	return kept;
}
