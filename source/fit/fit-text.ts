import {plainName} from '../faults/plain-name.ts';
import type {Sheet} from '../sheet/sheet.ts';
import {foldTable} from '../text/fold-table.ts';
import {figureText, fixedText, measureText, secondsText, significantText} from '../text/number-text.ts';
import {significant} from '../text/round-figures.ts';
import {wrapText} from '../text/wrap-text.ts';
import type {FingerSettings, FitResult, Smoothing} from './fit-result.ts';
import {noteText} from './note-text.ts';
import {newSheetLines} from './sheet-lines.ts';
import type {StickSettings} from './stick-settings.ts';

/** Words for a confidence 0…1. */
function sureText(confidence: number): string {
	if (confidence >= 0.8) return 'sure';
	if (confidence >= 0.65) return 'fair';
	return 'weak';
}

/**
 * The settings for a reader, at most `columns` wide, ending with a line end. `name` is the source's; with a `sheet` it tells what
 * in it no longer fits.
 */
export function fitText(result: FitResult, name: string, columns = 80, sheet?: Sheet): string {
	const prose: Prose = (text, first, rest) => wrapText(text, columns, first, rest);
	const unit = result.unit ?? 'counts';
	const rate = result.framesPerSecond === null ? '' : ` at ${figureText(result.framesPerSecond)} frames/s`;
	const scale = `Full scale ${figureText(result.fullScale)} ${unit}${result.isFullScaleSure ? '' : ' (assumed: name it with --full-scale)'}.`;
	const level = levelTextFor(result);
	const lines = [
		...prose(`Settings from ${secondsText(result.seconds)} of ${name}: ${figureText(result.frames)} frames${rate}.`),
		...(result.cut ? prose('The recording is not whole: these settings are from what is left of it.') : []),
		...prose(`${scale} ${result.firmware.explanation}`),
		...(result.fingers.length > 0 ? ['', ...fingerLines(result.fingers, unit, level, prose, columns)] : []),
		...tableLines(result.fingers, level, prose),
		...(sheet === undefined ? [] : sheetLines(result, sheet, prose)),
		...(result.stick ? ['', ...stickLines(result.stick, level, prose)] : []),
		...(result.smoothing ? ['', ...smoothingLines(result.smoothing, prose, columns)] : []),
		...(result.refused.length > 0
			? ['', 'Not given', ...result.refused.flatMap(each => prose(`${each.name}: ${each.reason}`, '  ', '    '))]
			: []),
		...(result.findings.length > 0
			? [
					'',
					...prose(
						`Still found: ${result.findings.map(({code, channel}) => plainName(code, channel)).join(', ')}. Mend ${result.findings.length === 1 ? 'it' : 'them'}, then fit again.`,
					),
				]
			: []),
		...(result.notJudged === '' ? [] : ['', ...prose(result.notJudged)]),
	];
	return `${lines.join('\n')}\n`;
}

/** Tables of fingers whose cords were pulled along a ruler. */
function tableLines(fingers: readonly FingerSettings[], level: LevelText, prose: Prose): string[] {
	const lines = fingers.flatMap(({name, table}) =>
		table === null ? [] : prose(`${name}: ${table.map(level).join(', ')}`, '  ', '    '),
	);
	return lines.length === 0
		? []
		: ['', ...prose('At nine even lengths of cord, from the ruler (--header: glove_bending_by_table)'), ...lines];
}

/** Wraps a paragraph to the width that was asked for. */
type Prose = (text: string, first?: string, rest?: string) => string[];

function fingerLines(
	fingers: readonly FingerSettings[],
	unit: string,
	level: LevelText,
	prose: Prose,
	width: number,
): string[] {
	const geometry = fingers.filter(finger => finger.geometry !== null);
	const notes = fingers.flatMap(({name, notes: all}) => all.map(note => `${name}: ${noteText(note)}`));
	return [
		`Fingers (${unit})`,
		...foldTable([fingerHeading, ...fingers.map(finger => fingerRow(finger, level))], {
			width,
			left: [fingerHeading.length - 1],
		}),
		...prose(
			'low and high are the farthest readings that a second visit confirms; room is what is left to the rails; bits are what noise leaves of the converter; range tells how sure it is.',
		),
		...(geometry.length > 0 ? ['', ...foldTable([geometryHeading, ...geometry.map(geometryRow)], {width})] : []),
		...notes.flatMap(note => prose(`Note: ${note}`, '', '  ')),
	];
}

const fingerHeading = ['finger', 'low', 'high', 'span', 'room below', 'above', 'bending', 'noise', 'bits', 'range'];

function fingerRow(finger: FingerSettings, level: LevelText): string[] {
	const {name, low, high, spanPercentFs, headroomLowPercent, headroomHighPercent, flip} = finger;
	return [
		name,
		level(low),
		level(high),
		measureText(spanPercentFs, 0, '%'),
		measureText(headroomLowPercent, 1, '%'),
		measureText(headroomHighPercent, 1, '%'),
		flip === null ? 'unknown' : flip ? 'falls' : 'rises',
		significantText(finger.restNoise, 2),
		fixedText(finger.effectiveBits, 1),
		sureText(finger.confidence),
	];
}

function sheetLines(result: FitResult, sheet: Sheet, prose: Prose): string[] {
	const lines = newSheetLines(result, sheet);
	if (lines.length === 0)
		return result.fingers.length === 0
			? []
			: ['', ...prose('The sheet fits: both ends of every finger lie within 3 % of it.')];
	return ['', 'New lines of the sheet', ...lines.slice(0, -1)];
}

type LevelText = (level: number) => string;

/** A reading: whole where counts are meant, else with the decimals that matter. */
function levelTextFor({unit, fullScale}: FitResult): LevelText {
	const isWhole = unit === null && fullScale >= 100;
	return level => (isWhole || Math.abs(level) >= 100 ? fixedText(level, 0) : String(significant(level, 3)));
}

const geometryHeading = ['By the sheet', 'spool turned', 'cord out', 'counts/° of spool', 'counts/° of finger'];

function geometryRow({name, geometry}: FingerSettings): string[] {
	const {countsPerSpoolDegree, spoolDegrees, countsPerFingerDegree, cordMm} = geometry!;
	return [
		name,
		`${fixedText(spoolDegrees, 0)}°`,
		measureText(cordMm, 1, 'mm'),
		fixedText(countsPerSpoolDegree, 2),
		fixedText(countsPerFingerDegree, 2),
	];
}

function stickLines(stick: StickSettings, level: LevelText, prose: Prose): string[] {
	const end = (value: number | null) => (value === null ? 'not reached' : level(value));
	const share =
		stick.deadZoneShare === null ? '' : ` (${fixedText(100 * stick.deadZoneShare, 1)} % of the shortest throw)`;
	return [
		`Stick (${stick.releases} releases, ${sureText(stick.confidence)})`,
		...[stick.x, stick.y].flatMap(axis =>
			prose(
				`centre ${level(axis.centre)}, ends ${end(axis.low)} and ${end(axis.high)}, rest scatter ${figureText(axis.restScatter)} rms`,
				axis.name.padEnd(10),
			),
		),
		...prose(`dead zone ${figureText(stick.deadZone)} around the centre${share}; usual: 5–10 %`, '', '  '),
	];
}

function smoothingLines(smoothing: Smoothing, prose: Prose, width: number): string[] {
	const {table, recommended, oneEuro} = smoothing;
	const like = smoothing.correlation >= 0.3 ? ' Successive readings are alike: the firmware smooths already.' : '';
	return [
		...prose(
			`Smoothing: y += weight * (x - y) each frame, for ${smoothing.finger}, whose noise is the largest: ${figureText(smoothing.noisePercentSpan)} % of its span rms.${like}`,
		),
		...foldTable(
			[
				['', 'weight', 'corner', 'noise left', 'lag', '95 % of a step'],
				...table.map(row => [
					row === recommended ? '>' : '',
					String(row.weight),
					row.cornerHz === null ? 'none' : `${figureText(row.cornerHz)} Hz`,
					`${figureText(row.noise)} %`,
					measureText(row.lagMs, 0, 'ms'),
					`${row.framesTo95} ${row.framesTo95 === 1 ? 'frame' : 'frames'}`,
				]),
			],
			{width},
		),
		...prose(
			`> is the weakest that leaves ${figureText(smoothing.targetPercentSpan)} % or less, with no more than 30 ms of lag.`,
		),
		...prose(
			`One Euro filter, for positions 0 to 1: mincutoff ${figureText(oneEuro.minCutoffHz)} Hz, beta ${figureText(oneEuro.beta)}, dcutoff 1 Hz; leaves ${figureText(100 * oneEuro.restNoise)} % at rest and lags ${figureText(oneEuro.movingLagMs)} ms at ${figureText(smoothing.spansPerSecond)} spans/s.`,
		),
	];
}
