import {fixedText} from '../text/number-text.ts';
import type {FingerSettings, Refusal} from './fit-result.ts';

/**
 * A finger that was not bent itself follows its neighbours by 5–30 % of their way, ring and little finger by up to some
 * 45 % (finger enslaving studies, abstracts read). A thumb's own range may be half of the others'.
 */
const followShare = 0.45;
const thumbShare = 0.3;

/** So many fingers that went their whole way make a fist, in which every finger moves by itself. */
const fistFingers = 3;

/** Fingers whose range is only what they followed: the hand was never closed, and another went much farther. */
export function followers(fingers: readonly FingerSettings[]): Refusal[] {
	const widest = fingers.reduce<FingerSettings | undefined>(
		(most, finger) => (most && most.spanPercentFs >= finger.spanPercentFs ? most : finger),
		undefined,
	);
	if (widest === undefined) return [];
	const isNarrow = ({name, spanPercentFs}: FingerSettings) =>
		spanPercentFs < (name.startsWith('thumb') ? thumbShare : followShare) * widest.spanPercentFs;
	const narrow = fingers.filter(isNarrow);
	if (fingers.length - narrow.length >= fistFingers) return [];
	return narrow.map(({name, spanPercentFs}) => ({
		name,
		reason:
			`It has travelled ${fixedText(spanPercentFs, 0)} % FS beside ${widest.name}'s ${fixedText(widest.spanPercentFs, 0)} %, ` +
			'as a neighbour that only follows does: open and close the whole hand fully, three times or more.',
	}));
}
