import type {FaultModel} from '../fault-model.ts';
import {graded} from '../fault-model.ts';
import type {Random} from '../random.ts';
import type {StreamSpec} from '../stream-spec.ts';

/** The frame without the bytes from `from` up to `to`. */
function without(bytes: Uint8Array, from: number, to: number): Uint8Array {
	const out = new Uint8Array(bytes.length - (to - from));
	out.set(bytes.subarray(0, from));
	out.set(bytes.subarray(to), from);
	return out;
}

function isDigit(byte: number): boolean {
	return byte >= 0x30 && byte <= 0x39;
}

/** Loses a few bytes, a separator among them, so that the frame is short of a value. */
function eat(bytes: Uint8Array, end: number, random: Random): Uint8Array {
	const body = bytes.length - end;
	const separators: number[] = [];
	for (let i = 1; i < body - 1; i++) if (!isDigit(bytes[i]) && isDigit(bytes[i - 1])) separators.push(i);
	if (separators.length === 0) return bytes.subarray(0, 1);
	const at = random.pick(separators);
	const from = Math.max(0, at - random.integer(0, 3));
	return without(bytes, from, Math.min(body, at + random.integer(2, 12)));
}

/** Loses one digit of one value: the line is of the right length in values and one is wildly wrong. */
function loseDigit(bytes: Uint8Array, random: Random): Uint8Array {
	const places: number[] = [];
	for (let i = 1; i < bytes.length; i++) if (isDigit(bytes[i]) && isDigit(bytes[i - 1])) places.push(i);
	if (places.length === 0) return bytes;
	const at = random.pick(places);
	return without(bytes, at, at + 1);
}

function damageOnce(stream: StreamSpec, kind: string, bytes: Uint8Array, random: Random): Uint8Array {
	const text = stream.framing === 'text' || stream.framing === 'json';
	const end = text ? stream.lineEnd.length : 1;
	if (!text) {
		const from = random.integer(1, Math.max(1, bytes.length - 4));
		return without(bytes, from, from + random.integer(1, 3));
	}
	switch (kind) {
		case 'merged':
			return bytes.subarray(0, bytes.length - end);
		case 'cut': {
			// The rest of the line never comes; the next frame follows on a line of its own, or on this one.
			const keep = random.integer(1, Math.max(1, Math.floor((bytes.length - end) * 0.75)));
			const cut = bytes.slice(0, keep + end);
			if (random.chance(0.5)) return cut.subarray(0, keep);
			cut.set(bytes.subarray(bytes.length - end), keep);
			return cut;
		}
		default:
			return eat(bytes, end, random);
	}
}

/** Bytes lost between board and program: an overrun buffer, a loose plug, radio loss. */
export const brokenFrames: FaultModel = {
	code: 'broken-frames',
	scope: 'link',
	variants: ['overrun', 'merged', 'cut', 'mixed'],
	install(rig, fault) {
		const {random, severity, window, variant} = fault;
		const share = graded(severity, {mustNot: 0.001, must: 0.02, gross: 0.35}, 0.25);
		let owed = random.uniform(0, 0.5);
		rig.damage.push((t, bytes) => {
			if (!window.has(t)) return bytes;
			owed += share * random.uniform(0.6, 1.4);
			if (owed < 1) {
				// Lost digits come on top: they leave the line whole as far as anyone can count.
				return variant === 'mixed' && random.chance(share / 3) ? loseDigit(bytes, random) : bytes;
			}
			owed -= 1;
			const kind = variant === 'mixed' ? random.pick(['overrun', 'merged', 'cut']) : variant;
			return damageOnce(rig.stream, kind, bytes, random);
		});
		const {framing, crc} = rig.stream;
		const names = rig.channels.map(({name}) => name);
		return {
			// Without a checksum a packet of the right length with wrong bytes is no broken frame to anyone.
			must: framing === 'text' || framing === 'json' || crc !== 'none' || rig.channels.length > 2,
			may: [
				{code: 'lost-frames', channel: null},
				{code: 'stray-text', channel: null},
				...(variant === 'mixed' ? names.map(channel => ({code: 'dropout', channel})) : []),
			],
		};
	},
};
