import type {Sheet} from '../sheet/sheet.ts';
import {significant} from '../text/round-figures.ts';
import type {FingerSettings, FitResult} from './fit-result.ts';

/** Less of the sheet's span, either end, is the way a hand varies from day to day (`settings-stale` must not speak within it). */
const sameShare = 0.03;

/**
 * What to put into a sheet for fingers whose lines in it no longer fit: `[[channel]]` tables with `name`, `min`, `max` and, where
 * it is known, `inverted`, in TOML. Empty without such a finger.
 */
export function newSheetLines({fingers, unit, fullScale}: FitResult, sheet: Sheet): string[] {
	const isWhole = unit === null && fullScale >= 100;
	return fingers.flatMap(finger => {
		const {name, low, high, flip} = finger;
		const was = sheet.channels.find(channel => channel.name === name);
		if (was !== undefined && fits(finger, was)) return [];
		const [min, max] = isWhole ? [Math.round(low), Math.round(high)] : [low, high].map(level => significant(level, 6));
		const before =
			was?.min === undefined || was.max === undefined
				? 'the sheet does not say'
				: `was ${was.min} to ${was.max}${was.inverted === undefined ? '' : was.inverted ? ', inverted' : ', not inverted'}`;
		return [
			`[[channel]] # ${before}`,
			`name = "${name}"`,
			`min = ${min}`,
			`max = ${max}`,
			...(flip === null ? [] : [`inverted = ${flip}`]),
			'',
		];
	});
}

function fits({low, high, flip}: FingerSettings, {min, max, inverted}: Sheet['channels'][number]): boolean {
	if (min === undefined || max === undefined) return false;
	const near = sameShare * (max - min);
	const isSame = Math.abs(low - min) <= near && Math.abs(high - max) <= near;
	return isSame && (flip === null || flip === (inverted ?? false));
}
