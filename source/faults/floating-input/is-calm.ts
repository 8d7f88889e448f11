import type {Features} from '../../features/features.ts';
import {provenFingers} from '../gates/open-pin.ts';
import {noise} from './noise.ts';

/**
 * Before the first finger is proven an open pin is what a glove looks like that nothing is wired to: no finding (check-values
 * D5.2), but where a pin jitters beside three other fingers that have long been quiet.
 */
export function isCalm(features: Features, a: number): boolean {
	if (provenFingers(features).proven > 0) return false;
	const isNoisy = features.percentOfConverter(features.jagged.rms[a]) >= noise.limits.noise.raise;
	return !isNoisy || features.quiet.fingersBeside(a, features) < noise.limits.quietBeside.raise;
}
