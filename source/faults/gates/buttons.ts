import type {Features} from '../../features/features.ts';
import {type Gate, ground} from './gate.ts';

/** A button as far as is known: named as one, or seen to change. */
export const isButton: Gate = ground(
	'button',
	'a column that a label or the sheet names, or that has changed',
	(features, b) => !features.buttons[b].isSpare,
);

/** The name of the button at place `b`. */
export function buttonName(features: Features, b: number): string {
	return features.layout.channels[features.buttons[b].column].name;
}

/** Seconds since its first frame; undefined before. */
export function watchedSeconds(features: Features, b: number): number | undefined {
	const seconds = features.now - features.buttons[b].firstAt;
	return Number.isNaN(seconds) ? undefined : seconds;
}
