import {findColours} from './stages/colours.ts';
import {findConstantPrefix} from './stages/constant-prefix.ts';
import {findDoubled} from './stages/doubled.ts';
import {findFrontNumbers, findTwoUnitTimes} from './stages/front-numbers.ts';
import {findHeads} from './stages/heads.ts';
import {findHtml, findOddBlanks} from './stages/html.ts';
import {type LineStage, runStage, type StageFinder} from './stages/line-stage.ts';
import {findMailHead, findQuotedPrintable, findQuoteMarks} from './stages/mail.ts';
import {findFences, findLiterals} from './stages/marks.ts';
import {findOmissions} from './stages/omissions.ts';
import {findTwoHands} from './stages/two-hands.ts';
import {findTurns, findWidth} from './stages/wrapped.ts';

/**
 * The steps of the intake, in the order in which a line goes through them: the outermost wrapping is taken off first.
 * What stands inside of a frame is left to the framer.
 */
const finders: readonly StageFinder[] = [
	findColours,
	findQuotedPrintable,
	findHtml,
	findOddBlanks,
	findMailHead,
	findQuoteMarks,
	findFences,
	findWidth,
	findLiterals,
	findTwoUnitTimes,
	findFrontNumbers,
	findHeads,
	findConstantPrefix,
	findFrontNumbers,
	findOmissions,
	findTwoHands,
	findTurns,
	findDoubled,
];

/** Lines looked at: what a log was wrapped in shows in fewer. */
const mostLines = 2000;
const longestLine = 8192;

/** The steps that a log needs, found one after the other, each on what the one before it leaves of the first lines. */
export function findStages(sample: readonly string[]): LineStage[] {
	let lines = sample.slice(0, mostLines).filter(line => line.length <= longestLine);
	const stages: LineStage[] = [];
	for (const find of finders) {
		const stage = find(lines.filter(line => line.trim() !== ''));
		if (stage === undefined) continue;
		const own = find(lines.filter(line => line.trim() !== ''));
		if (own === undefined) continue;
		stages.push(stage);
		// Another one of its kind, so that the lines of the sample are not counted twice.
		lines = runStage(own, lines);
	}

	return stages;
}
