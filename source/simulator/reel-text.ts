import {CannotError} from '../cannot-error.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';
import type {FingerSpec} from './glove.ts';

/** An audio pot has so much of its resistance at half turn (common practice; check-values P5). */
const usualHalf = 0.15;

/**
 * Fingers whose reels are as said: `index:taper=audio,load=0.1,layer=20`. `taper`: `audio` or `reverse`, with the per cent at half
 * turn behind a slash as needed; `load`: resistance of the track over that of what loads the wiper; `layer`: millimetres of
 * cord from which on it lies in a second layer. Throws `CannotError` for what it does not know.
 */
export function withReels(fingers: readonly FingerSpec[], texts: readonly string[]): FingerSpec[] {
	const changed = [...fingers];
	for (const text of texts) {
		const [name, ...rest] = text.split(':');
		const place = changed.findIndex(finger => finger.name === name.trim());
		if (place < 0)
			throw new CannotError(
				`--reel ${escapeText(text, 60)}: there is no finger ${escapeText(JSON.stringify(name), 20)}; there are ${listText(fingers.map(finger => finger.name))}.`,
			);
		for (const part of rest.join(':').split(',')) changed[place] = {...changed[place], ...oddity(part, text)};
	}

	return changed;
}

function oddity(part: string, text: string): Partial<FingerSpec> {
	const [key, value = ''] = part.split('=').map(each => each.trim().toLowerCase());
	const taper = /^(audio|reverse)(?:\/(\d+(?:\.\d+)?))?$/.exec(value);
	if (key === 'taper' && taper) {
		const half = taper[2] === undefined ? usualHalf : Number(taper[2]) / 100;
		if (half > 0 && half < 1) return {halfShare: taper[1] === 'audio' ? half : 1 - half};
	}

	const number = Number(value);
	if (value !== '' && Number.isFinite(number)) {
		if (key === 'load' && number >= 0 && number <= 10) return {loadRatio: number};
		if (key === 'layer' && number >= 0 && number <= 500) return {layerAtMm: number};
	}

	throw new CannotError(
		`--reel ${escapeText(text, 60)}: ${escapeText(JSON.stringify(part), 30)} is none of taper=audio, taper=reverse/10, load=0.1 (0 to 10) and layer=20 (mm).`,
	);
}
