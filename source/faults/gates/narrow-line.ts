import {atLeast, type Gate, type Limit} from './gate.ts';

/** How much higher a mains line stands than what is beside it. */
export const narrow: Limit = {
	raise: 3,
	clear: 2,
	must: null,
	mustNot: null,
	unit: 'times as high as what is 1–2 Hz beside it',
	because:
		'a line has an eighth of its height there (2 s window, sinc); noise as much as at the line, and tremor, scratching and tapping, one or two hertz wide, half of it',
};

/** Asks for a line as narrow as `narrow`: mains, no hand. */
export const isNarrow: Gate = atLeast('narrow', (features, a) => features.mainsLines.narrow(a));
