import {blockLetters} from '../screen/block-letters.ts';
import type {Look} from '../screen/look.ts';
import {type Part, panel} from '../screen/part.ts';
import {type Row, row} from '../screen/rows.ts';
import {escapeText} from '../text/escape-text.ts';
import {fixedText} from '../text/number-text.ts';
import {wrapText} from '../text/wrap-text.ts';
import {handPicture} from './hand-picture.ts';
import type {LiveMountView} from './live-mount.ts';
import {mountCautionRow} from './mount-cautions.ts';
import {turnedSentence} from './mount-text.ts';
import {offsetFigures} from './offset-figures.ts';
import {halfWidths, leastKnown, widest} from './region.ts';
import {degree} from './rotation.ts';

type Size = {readonly columns: number; readonly rows: number};

/** Below this a screen holds no picture. */
const leastColumns = 60;
const leastRows = 16;

/**
 * The page that leads full hands through the routine: what comes next, how still the hand is, what is known by now. `keyLine`
 * stands below it.
 */
export function liveMountPage(
	view: LiveMountView,
	source: string,
	bell: boolean,
	{columns, rows}: Size,
	look: Look,
	keyLine: string,
): Part {
	if (columns < leastColumns || rows < leastRows)
		return panel([row(`Too small: ${leastColumns}×${leastRows} at least.`)], columns, rows);
	const {glyphs} = look;
	const rule = row(glyphs.rule.repeat(columns), 'faint');
	const rate = view.perSecond === null ? '' : `  ${view.perSecond}/s`;
	const of = view.device === null ? '' : `  ${escapeText(view.device, 20)}`;
	const head = row(` ${escapeText(source, 30)}${of}${rate}  ${view.rows} poses${bell ? '  bell on' : ''}`, 'quiet');
	const state = view.trouble ?? view.hint;
	const prompt = wrapText(capital(view.prompt), columns - 22);
	const next: Row[] = prompt
		.slice(0, 2)
		.map((line, index) => [
			{text: index === 0 ? ` ${`${view.done} of ${view.steps} done`.padEnd(13)}` : ' '.repeat(14)},
			{text: index === 0 ? (view.isDone ? 'DONE  ' : 'NEXT  ') : '      ', tone: 'alert'},
			{text: ` ${line}`, tone: 'strong'},
		]);
	if (next.length > 1) next[1] = [{text: ' '.repeat(20)}, {text: ` ${prompt[1]}`, tone: 'strong'}];
	const big = blockLetters(view.word, columns - 30, 5, glyphs.full);
	const side = stillLines(view);
	const bigRows = Array.from(
		{length: Math.max(5, big.length)},
		(_, index): Row => [
			{text: `  ${(big[index] ?? '').padEnd(columns - 30)}`, tone: view.isDone ? 'good' : 'strong'},
			{text: side[index] ?? ''},
		],
	);
	const used = 4 + next.length + bigRows.length;
	const room = Math.max(4, rows - used - 2);
	const known = knownLines(view, columns - 34);
	const tracker = trackerOf(view);
	const picture = handPicture(30, Math.min(room, 10), tracker);
	const body = Array.from(
		{length: room},
		(_, index): Row => [{text: ` ${(picture[index] ?? '').padEnd(31)}`}, {text: known[index] ?? ''}],
	);
	return panel(
		[
			head,
			...next,
			state === null ? row('') : row(` ${state}`, view.trouble === null ? 'maintenance' : 'failure'),
			rule,
			...bigRows,
			rule,
			...body,
			row(` ${mountCautionRow}`, 'quiet'),
			row(keyLine, 'quiet'),
		].slice(0, rows),
		columns,
		rows,
	);
}

function capital(text: string): string {
	return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function stillLines({still, word}: LiveMountView): string[] {
	if (still === null) return [];
	const need = word === 'pivot' || word === 'done' ? '' : ` of ${fixedText(still.need, 1)} s`;
	return [
		'how still the hand is',
		still.seconds > 0 ? `still ${fixedText(still.seconds, 1)} s${need}` : 'moving',
		`turns ${fixedText(still.degrees, 1).padStart(5)}°/s (below 3)`,
		`moves ${fixedText(still.mm, 0).padStart(5)} mm/s (below 15)`,
	];
}

function trackerOf({mount}: LiveMountView) {
	if (!mount) return null;
	const {position, turn} = offsetFigures(mount.result).handToTracker;
	return position && turn ? {place: position, turn: turn.quaternion} : null;
}

/** What is known by now, every number with its ±. */
function knownLines({mount}: LiveMountView, width: number): string[] {
	if (!mount) return [];
	const {result} = mount;
	const lines: string[] = [];
	if (result.swings.length > 0) lines.push(...wrapText(turnedSentence(result), width));
	if (result.turn && result.turnRegion) {
		lines.push(
			`rotation known to ${fixedText(leastKnown(result.turnRegion).deviation / degree, 1)}°, ${result.enough.degrees}° asked`,
		);
		lines.push(`  ±${fixedText(widest(result.turnRegion) / degree, 1)}° in 95 of 100`);
	} else lines.push('rotation not known yet');
	if (result.point && result.pointRegion) {
		const half = halfWidths(result.pointRegion);
		lines.push(
			`point known to ${fixedText(leastKnown(result.pointRegion).deviation, 1)} mm, ${result.enough.mm} mm asked`,
		);
		lines.push(
			...result.point.map(
				(value, k) => `  ${'xyz'[k]} ${fixedText(value, 1).padStart(7)} ±${fixedText(half[k], 1)} mm`,
			),
		);
	} else lines.push('point not known yet');
	return lines;
}

/** What has changed since, in sentences for a screen reader. */
export function spokenMount(view: LiveMountView, before: LiveMountView | undefined): string[] {
	const said: string[] = [];
	if (view.trouble !== null && view.trouble !== before?.trouble) said.push(view.trouble);
	if (view.hint !== null && view.hint !== before?.hint) said.push(view.hint);
	if (view.done !== before?.done || view.word !== before?.word)
		said.push(
			view.isDone ? 'Done: all is known. q leaves.' : `${view.done} of ${view.steps} done. Next: ${view.prompt}.`,
		);
	return said;
}
