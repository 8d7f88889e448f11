import {escapeText} from '../text/escape-text.ts';
import {significant} from '../text/round-figures.ts';
import type {FingerSettings, FitResult} from './fit-result.ts';
import type {StickAxis} from './stick-settings.ts';

/** Share of the span given away at each end, so that 0 and 1 are reached on a bad day too (common practice: 2–5 %). */
const endMarginPercent = 2;

/**
 * The settings as a C header (C99 and C++), macros and two small inline functions; names and units are explained in
 * docs/fit.md. `name` is the source's. What was refused is left out and named in a comment.
 */
export function fitHeader(result: FitResult, name: string): string {
	// Where readings carry a unit or decimals, whole numbers would lose them.
	const isWhole = result.unit === null && result.fullScale >= 100;
	const number = (value: number): string => (isWhole ? String(Math.round(value)) : floating(value));
	const lines = [
		`/* Settings of one glove on one hand. Made by glovebench fit from ${comment(name)}.`,
		` * Readings are ${result.unit === null ? 'counts' : comment(result.unit)} as the board sends them. What each name means: docs/fit.md.`,
		...(result.cut ? [' * The recording is not whole: these are from what is left of it.'] : []),
		...(result.firmware.scales === 'yes' ? [' * The firmware scales by itself: these are for what it sends.'] : []),
		...result.refused.map(each => ` * Not given: ${comment(each.name)}. ${comment(each.reason)}`),
		' */',
		'#ifndef GLOVE_SETTINGS_H',
		'#define GLOVE_SETTINGS_H',
		'',
		...(result.stick ? ['#include <math.h>'] : []),
		...(isWhole ? ['#include <stdint.h>'] : []),
		'',
		`#define GLOVE_FULL_SCALE ${number(result.fullScale)}`,
		...(result.framesPerSecond === null ? [] : [`#define GLOVE_FRAMES_PER_SECOND ${floating(result.framesPerSecond)}`]),
		`#define GLOVE_END_MARGIN_PERCENT ${endMarginPercent}`,
		...result.fingers.flatMap(finger => ['', ...fingerLines(finger, number)]),
		...stickLines(result, number),
		...smoothingLines(result),
		'',
		...(isWhole ? wholeFunctions : floatFunctions),
		...(result.fingers.some(({table}) => table !== null) ? ['', ...(isWhole ? wholeTable : floatTable)] : []),
		...(result.stick ? ['', ...stickFunctions] : []),
		'',
		'#endif',
	];
	return `${lines.join('\n')}\n`;
}

function macro(name: string): string {
	return `GLOVE_${name.toUpperCase().replace(/[^A-Z0-9]+/g, '_')}`;
}

/** A literal that C reads as a float. */
function floating(value: number): string {
	const text = String(significant(value, 6));
	return `${/[.e]/.test(text) ? text : `${text}.0`}f`;
}

/** Text that cannot end the comment it stands in. */
function comment(text: string): string {
	return escapeText(text).replaceAll('*/', '* /').replaceAll('/*', '/ *').replaceAll('\\', '/').replaceAll('??', '? ?');
}

function fingerLines(finger: FingerSettings, number: (value: number) => string): string[] {
	const name = macro(finger.name);
	return [
		`#define ${name}_COLUMN ${finger.column}`,
		`#define ${name}_LOW ${number(finger.low)}`,
		`#define ${name}_HIGH ${number(finger.high)}`,
		finger.flip === null
			? `#define ${name}_FLIP 0 /* not known: set to 1 if it falls as the finger bends */`
			: `#define ${name}_FLIP ${finger.flip ? 1 : 0}`,
		...(finger.table === null ? [] : [`#define ${name}_TABLE {${finger.table.map(number).join(', ')}}`]),
	];
}

function stickLines({stick}: FitResult, number: (value: number) => string): string[] {
	if (stick === null) return [];
	const axis = ({name, column, centre, low, high, flip}: StickAxis): string[] => [
		'',
		`#define ${macro(name)}_COLUMN ${column}`,
		`#define ${macro(name)}_CENTRE ${number(centre)}`,
		...(low === null ? [] : [`#define ${macro(name)}_LOW ${number(low)}`]),
		...(high === null ? [] : [`#define ${macro(name)}_HIGH ${number(high)}`]),
		...(flip === null ? [] : [`#define ${macro(name)}_FLIP ${flip ? 1 : 0}`]),
	];
	const {deadZone, deadZoneShare} = stick;
	return [
		...axis(stick.x),
		...axis(stick.y),
		'',
		`#define GLOVE_STICK_DEAD_ZONE ${number(deadZone)}`,
		...(deadZoneShare === null ? [] : [`#define GLOVE_STICK_DEAD_ZONE_SHARE ${floating(deadZoneShare)}`]),
	];
}

function smoothingLines({smoothing}: FitResult): string[] {
	if (smoothing === null) return [];
	const {recommended, oneEuro} = smoothing;
	return [
		'',
		`#define GLOVE_SMOOTHING_SIXTEENTHS ${Math.round(16 * recommended.weight)}`,
		`#define GLOVE_SMOOTHING_WEIGHT ${floating(recommended.weight)}`,
		`#define GLOVE_ONE_EURO_MIN_CUTOFF_HZ ${floating(oneEuro.minCutoffHz)}`,
		`#define GLOVE_ONE_EURO_BETA ${floating(oneEuro.beta)}`,
		`#define GLOVE_ONE_EURO_DERIVATIVE_CUTOFF_HZ ${floating(oneEuro.derivativeCutoffHz)}`,
	];
}

const stickFunctions = [
	'/* Position of a stick axis, -1 to 1: each half by its own end. */',
	'static inline float glove_axis(float reading, float centre, float low, float high) {',
	'\tfloat part = reading < centre ? (reading - centre) / (centre - low) : (reading - centre) / (high - centre);',
	'\tif (part < -1.0f) part = -1.0f;',
	'\tif (part > 1.0f) part = 1.0f;',
	'\treturn part;',
	'}',
	'',
	'/* Takes a round dead zone out of a stick position and stretches the rest, so that nothing jumps at its rim. */',
	'static inline void glove_dead_zone(float *x, float *y, float zone) {',
	'\tconst float radius = (float)sqrt((double)(*x * *x + *y * *y));',
	'\tconst float scale = radius <= zone ? 0.0f : (radius - zone) / (1.0f - zone) / radius;',
	'\t*x *= scale;',
	'\t*y *= scale;',
	'}',
];

const wholeFunctions = [
	'/* Bending of a finger in thousandths: 0 open, 1000 closed. */',
	'static inline int16_t glove_bending(int32_t reading, int32_t low, int32_t high, uint8_t flip) {',
	'\tconst int32_t margin = (high - low) * GLOVE_END_MARGIN_PERCENT / 100;',
	'\tconst int32_t span = high - low - 2 * margin;',
	'\tint32_t part = span > 0 ? (reading - low - margin) * 1000 / span : 0;',
	'\tif (part < 0) part = 0;',
	'\tif (part > 1000) part = 1000;',
	'\treturn (int16_t)(flip ? 1000 - part : part);',
	'}',
	'',
	'/* One step of the smoothing filter; `state` is 16 times the smoothed reading. Returns the smoothed reading. */',
	'static inline int32_t glove_smooth(int32_t *state, int32_t reading, uint8_t sixteenths) {',
	'\t*state += (reading - (*state + 8) / 16) * sixteenths;',
	'\treturn (*state + 8) / 16;',
	'}',
];

const floatFunctions = [
	'/* Bending of a finger: 0 open, 1 closed. */',
	'static inline float glove_bending(float reading, float low, float high, unsigned char flip) {',
	'\tconst float margin = (high - low) * GLOVE_END_MARGIN_PERCENT / 100.0f;',
	'\tconst float span = high - low - 2.0f * margin;',
	'\tfloat part = span > 0.0f ? (reading - low - margin) / span : 0.0f;',
	'\tif (part < 0.0f) part = 0.0f;',
	'\tif (part > 1.0f) part = 1.0f;',
	'\treturn flip ? 1.0f - part : part;',
	'}',
	'',
	'/* One step of the smoothing filter; `state` is the smoothed reading. */',
	'static inline float glove_smooth(float *state, float reading, float weight) {',
	'\t*state += (reading - *state) * weight;',
	'\treturn *state;',
	'}',
];

const wholeTable = [
	'/* The same by the cord: `table` holds nine readings, rising, at even lengths of it, as in GLOVE_<FINGER>_TABLE. */',
	'static inline int16_t glove_bending_by_table(int32_t reading, const int32_t *table, uint8_t flip) {',
	'\tuint8_t i = 0;',
	'\twhile (i < 7 && reading >= table[i + 1]) i++;',
	'\tconst int32_t step = table[i + 1] - table[i];',
	'\tint32_t part = i * 125 + (step > 0 ? (reading - table[i]) * 125 / step : 0);',
	'\tpart = (part - 10 * GLOVE_END_MARGIN_PERCENT) * 100 / (100 - 2 * GLOVE_END_MARGIN_PERCENT);',
	'\tif (part < 0) part = 0;',
	'\tif (part > 1000) part = 1000;',
	'\treturn (int16_t)(flip ? 1000 - part : part);',
	'}',
];

const floatTable = [
	'/* The same by the cord: `table` holds nine readings, rising, at even lengths of it, as in GLOVE_<FINGER>_TABLE. */',
	'static inline float glove_bending_by_table(float reading, const float *table, unsigned char flip) {',
	'\tint i = 0;',
	'\twhile (i < 7 && reading >= table[i + 1]) i++;',
	'\tconst float step = table[i + 1] - table[i];',
	'\tconst float margin = GLOVE_END_MARGIN_PERCENT / 100.0f;',
	'\tfloat part = (float)i / 8.0f + (step > 0.0f ? (reading - table[i]) / step / 8.0f : 0.0f);',
	'\tpart = (part - margin) / (1.0f - 2.0f * margin);',
	'\tif (part < 0.0f) part = 0.0f;',
	'\tif (part > 1.0f) part = 1.0f;',
	'\treturn flip ? 1.0f - part : part;',
	'}',
];
