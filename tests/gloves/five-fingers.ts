import {type Course, type Fists, fists} from './draw.ts';

/** A hand of which no finger is a scaled copy of another: levels of the fist, times a way takes, and how late each sets out. */
const fingers = {
	thumb: {closed: 65, way: 0.5, late: 0.05},
	index: {closed: 75, way: 0.4, late: 0},
	middle: {closed: 80, way: 0.46, late: 0.02},
	ring: {closed: 78, way: 0.38, late: 0.03},
	little: {closed: 72, way: 0.43, late: 0.06},
} as const;

export type FingerName = keyof typeof fingers;
export const fingerNames = Object.keys(fingers) as FingerName[];

/** Fists of one of them, opening at 20 % of full scale; four times, two seconds each, from 1 s on. */
export function fistsOf(name: FingerName, more: Partial<Fists> = {}): Course {
	const {closed, way, late} = fingers[name];
	return fists({open: 20, closed, times: 4, way, ...more, from: (more.from ?? 1) + late});
}

/** All five in scan order, each with its fists or a course of its own. */
export function fiveFingers(
	own: Partial<Record<FingerName, Course>> = {},
	more: Partial<Fists> = {},
): Record<string, Course> {
	return Object.fromEntries(fingerNames.map(name => [name, own[name] ?? fistsOf(name, more)]));
}
