import type {Features} from '../../features/features.ts';
import {fingersAtBothEnds, isFirmwares, othersAtFirmwaresTop} from '../../features/scaling.ts';
import {type Gate, unless} from './gate.ts';

/** An end of the scale is the converter's own: firmware that scales or limits its fingers puts them there, and that is no fault. */
export const isUnscaled: Gate = unless('unscaled', "ends of the scale that are the converter's own", whyScaled);

/** What shows that firmware scales or limits the fingers, seen from channel `a`; undefined where nothing does. */
export function whyScaled(features: Features, a: number): string | undefined {
	const {scale} = features;
	if (scale.isNormalised) return `readings from 0 to ${scale.fullScale}`;
	if (features.ranges.hasLearned(a)) return 'a range that the firmware has learned, which ends at both rails';
	if (features.ranges.haveOthersLearned(a, features.handAt(a)?.fingers ?? []))
		return 'ranges that the firmware has learned on the other fingers';
	const ends = fingersAtBothEnds(features, a);
	if (isFirmwares(ends)) return `${ends.both} of ${ends.of} fingers reach both ends`;
	const others = othersAtFirmwaresTop(features, a);
	return others > 1 ? `${others} other fingers end at one and the same reading below full scale` : undefined;
}
