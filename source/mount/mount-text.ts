import {escapeText} from '../text/escape-text.ts';
import {figureText, fixedText, secondsText} from '../text/number-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import {mountCautions, mountLimits} from './mount-cautions.ts';
import type {Found, MountResult, ReadAs} from './mount-result.ts';
import {type OffsetFigures, offsetFigures} from './offset-figures.ts';
import {halfWidths, leastKnown, widest} from './region.ts';
import {degree} from './rotation.ts';
import {gestureWords} from './solve-gestures.ts';
import type {VerifyResult} from './verify.ts';

/** The result for a reader, its prose at most `columns` wide. `name` is the source's, escaped. */
export function mountText(
	result: MountResult,
	readAs: ReadAs,
	name: string,
	columns = 80,
	verify: VerifyResult | null = null,
): string {
	const prose = (text: string, first?: string, rest?: string) => wrapText(text, columns, first, rest);
	const {trackerToHand, handToTracker} = offsetFigures(result);
	const lines = [
		...prose(verdictSentence(result, verify)),
		'',
		...prose(`Read: ${readSentence(readAs, name)}`),
		...readAs.notes.flatMap(note => prose(note, '  ')),
		...(result.steps.length > 0 ? ['', 'Steps', ...result.steps.map(stepLine)] : []),
		...(result.swings.length > 0 ? ['', ...prose(turnedSentence(result))] : []),
		...knownLines(result).flatMap(line => prose(line)),
		...(verify ? ['', ...verifyLines(verify).flatMap(line => prose(line))] : []),
		...(result.problems.length > 0 ? ['', 'Wrong', ...result.problems.flatMap(each => prose(each, '  '))] : []),
		...(result.missing.length > 0
			? ['', 'Missing', ...result.missing.flatMap(({what, move}) => prose(`${what}: ${move}.`, '  ', '    '))]
			: []),
		...(verify
			? []
			: offsetLines('Tracker to hand (the pose of the hand = the pose of the tracker · this)', trackerToHand)),
		...(verify ? [] : offsetLines('Hand to tracker (the inverse)', handToTracker)),
		...(verify ? [] : pasteLines(result)),
		'',
		...prose(mountLimits),
		...mountCautions.flatMap(caution => prose(`Caution: ${caution}`, '', '  ')),
	];
	return `${lines.join('\n')}\n`;
}

/** The verdict in a sentence, its word first. */
export function verdictSentence(result: MountResult, verify: VerifyResult | null = null): string {
	if (verify) {
		if (result.verdict === 'fail') return `FAIL: ${result.problems[0]}`;
		return verify.isZero ? 'PASS: nothing is left, the offset was typed in right.' : 'FAIL: an offset is left.';
	}
	if (result.verdict === 'fail') return `FAIL: ${result.problems[0]}`;
	if (result.verdict === 'unproven')
		return `UNPROVEN: ${result.missing
			.map(({what}) => what)
			.filter((what, index, all) => all.indexOf(what) === index)
			.join(' and ')} not known well enough yet.`;
	return 'PASS: rotation and position are known.';
}

function readSentence(readAs: ReadAs, name: string): string {
	const {rows, seconds, device, second, lagSeconds, unit, order, direction, upAxis} = readAs;
	const of = device === null ? '' : ` of ${escapeText(device, 40)}`;
	const parts = [
		`${figureText(rows)} rows${of} in ${secondsText(seconds)} of ${name}`,
		`positions in ${unit.is}${foundText(unit, times => `${unit.next} would be ${times} times farther from a hand's size`)}`,
		`quaternion ${order.is}${foundText(order, times => `${order.next} fits ${times} times worse`)}`,
		`${direction.is.replaceAll('-', ' ')}${foundText(direction, times => `the inverse fits ${times} times worse`)}`,
		...(upAxis ? [`up is ${upAxis.is}${foundText(upAxis, times => `${upAxis.next} fits ${times} times worse`)}`] : []),
		...(second === null
			? []
			: [`second thing ${escapeText(second, 40)}, ${figureText(1000 * (lagSeconds ?? 0))} ms later`]),
	];
	return `${parts.join('; ')}.`;
}

function foundText(found: Found<string>, next: (times: string) => string): string {
	switch (found.by) {
		case 'option':
			return ' (as you said)';
		case 'name':
			return ' (named so)';
		case 'assumed':
			return ' (assumed: without a pivot nothing tells)';
		case 'data':
			return found.times === null
				? ''
				: ` (found: ${next(found.times > 100 ? 'over 100' : figureText(found.times, 2))})`;
	}
}

function stepLine({name, from, to}: MountResult['steps'][number]): string {
	const words =
		name === 'pivot' ? 'turning on the pivot' : name === 'together' ? 'moving together' : gestureWords[name];
	return `  ${words.padEnd(22)} ${secondsText(from).padStart(9)} to ${secondsText(to).padStart(9)}`;
}

/** How far the hand was turned about each axis on the pivot, and what that lacks. */
export function turnedSentence({swings}: Pick<MountResult, 'swings'>): string {
	return `Turned ${swings.map(({about, degrees}) => `±${fixedText(degrees, 0)}° ${about}`).join(', ')}.`;
}

function knownLines({pointRegion, placeRegion, turnRegion, strayMm, strayDegrees, road}: MountResult): string[] {
	const region = pointRegion ?? placeRegion;
	return [
		...(region
			? [
					`${road === 'gestures' ? 'Point' : 'Position'} known to ${fixedText(leastKnown(region).deviation, 1)} mm (one standard deviation) where it is known least; it strayed ${figureText(strayMm)} mm rms.`,
				]
			: []),
		...(turnRegion
			? [
					`Rotation known to ${fixedText(leastKnown(turnRegion).deviation / degree, 1)}° (one standard deviation) where it is known least, ${fixedText(widest(turnRegion) / degree, 1)}° in 95 of 100 cases; ${road === 'gestures' ? 'the poses were' : 'single moments are'} ${figureText(strayDegrees)}° off.`,
				]
			: []),
	];
}

function verifyLines({against, leftMm, leftDegrees, isZero, slip}: VerifyResult): string[] {
	return [
		`Left of the offset in ${escapeText(against, 60)}: ${fixedText(leftMm, 1)} mm and ${fixedText(leftDegrees, 1)}°.`,
		...(isZero
			? ['That is nothing, as far as this log can tell.']
			: slip
				? [`One slip explains it, ${figureText(slip.timesBetter, 2)} times better than none: ${slip.what}.`]
				: ['No single slip in typing explains it: has the tracker moved on the strap since? Then measure again.']),
	];
}

const mm = (value: number) => fixedText(value, 1);

function offsetLines(title: string, {position, position95, turn}: OffsetFigures): string[] {
	const lines: string[] = ['', title];
	lines.push(
		position && position95
			? `  position    ${position.map((value, k) => `${'xyz'[k]} ${mm(value)} ±${mm(position95[k])}`).join('  ')} mm`
			: '  position    not known',
	);
	if (position && position95)
		lines.push(
			`              ${position.map((value, k) => `${'xyz'[k]} ${fixedText(value / 1000, 4)} ±${fixedText(position95[k] / 1000, 4)}`).join('  ')} m`,
		);
	if (turn === null) return [...lines, '  rotation    not known'];
	lines.push(
		`  quaternion  ${turn.quaternion.map((value, k) => `${'wxyz'[k]} ${fixedText(value, 4)}±${fixedText(turn.quaternion95[k], 3)}`).join('  ')}`,
	);
	for (const row of [0, 1, 2]) {
		const cells = turn.matrix.slice(3 * row, 3 * row + 3).map(value => fixedText(value, 5).padStart(9));
		if (position) cells.push(mm(position[row]).padStart(8));
		lines.push(`${row === 0 ? '  matrix    ' : '            '}${cells.join(' ')}`);
	}
	if (position) lines.push(`            ${['0', '0', '0'].map(cell => cell.padStart(9)).join(' ')} ${'1'.padStart(8)}`);
	for (const {order, extrinsic, degrees, degrees95, isLocked} of turn.euler) {
		const angles = degrees
			.map((value, k) => `${order[k].toLowerCase()} ${fixedText(value, 1)} ±${fixedText(degrees95[k], 1)}`)
			.join('  ');
		lines.push(`  ${order} intrinsic, ${extrinsic} extrinsic  ${angles} °`);
		if (isLocked)
			lines.push(
				`    gimbal lock: ${order[1].toLowerCase()} is within 1° of 90°, and only one of the other two counts.`,
			);
	}
	return lines;
}

/** The `[mount]` table of a sheet; nothing where nothing is known. */
function pasteLines(result: MountResult): string[] {
	const {place, turn, turnRegion, placeRegion} = result;
	if (!place && !turn) return [];
	const list = (values: readonly number[], digits: number) =>
		`[${values.map(value => fixedText(value, digits)).join(', ')}]`;
	return [
		'',
		'To paste into the sheet',
		'  [mount]',
		`  hand = "${result.hand}"`,
		`  origin_from_pivot_mm = ${list(result.originFromPivot, 1)}`,
		...(place && placeRegion
			? [`  tracker_to_hand_mm = ${list(place, 1)}`, `  uncertain_mm = ${list(halfWidths(placeRegion), 1)}`]
			: []),
		...(turn && turnRegion
			? [`  tracker_to_hand_wxyz = ${list(turn, 6)}`, `  uncertain_deg = ${fixedText(widest(turnRegion) / degree, 1)}`]
			: []),
	];
}
