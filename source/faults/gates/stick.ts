import type {Features} from '../../features/features.ts';
import type {StickFeatures} from '../../features/stick-features.ts';
import {type Gate, ground, unless} from './gate.ts';

/** An axis of a stick both of whose pins are wired as far as is known: what an open pin does is no deflection. */
export const isStick: Gate = ground(
	'stick',
	'an axis of a stick that is wired and not learning its range',
	(features, a) => {
		const {stick} = features;
		if (stick === null || (a !== stick.x && a !== stick.y)) return false;
		const {open, learning} = features;
		return open[stick.x] === 0 && open[stick.y] === 0 && learning[stick.x] === 0 && learning[stick.y] === 0;
	},
	({stick}, a) => stick === null || (a !== stick.x && a !== stick.y),
);

/** The stick behind the gate above. */
export function stickOf({stick}: Features): StickFeatures {
	if (stick === null) throw new RangeError('asked of a stream without a stick');
	return stick;
}

/** Positions are shares of a scale: one that no reading has shown yet is a guess. */
export const isScaleKnown: Gate = unless(
	'scale',
	'a full scale that is declared or that readings have shown',
	({scale}) => (scale.sure || scale.foreign ? undefined : `full scale ${scale.fullScale} is a guess`),
);
