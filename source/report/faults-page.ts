import type {Fault} from '../faults/fault.ts';
import {gateWords, sentence, waysInWords} from '../faults/limit-text.ts';
import {judgedOn, statusMeanings} from '../faults/status-meanings.ts';
import {itemAt} from '../item-at.ts';

/** Signs that Markdown would take for its own. */
function escapeMarkdown(text: string): string {
	return text.replace(/[\\*<>|[\]]/g, sign => `\\${sign}`);
}

/** What the strictest chats take in one message (common practice, no source). */
const mostCharacters = 2000;

/**
 * One finding for a chat or a forum: what it is, causes, what to measure, remedy and caution, without the gates and limits
 * of the page; under 2,000 characters.
 */
export function faultSection(fault: Fault): string {
	const textOf = (told: Fault) => `${section(told, false).join('\n').trimEnd()}\n`;
	// What the builder is to do matters more than why it reads like this, and what is likely and measured first more than the rest.
	const withoutPhysics = (text: string) => text.replace(`${escapeMarkdown(fault.physics)}\n\n`, '');
	const causes = fault.causes.slice(0, 3);
	const tries = [fault, {...fault, causes}, {...fault, causes, measurements: fault.measurements.slice(0, 4)}];
	const texts = [textOf(fault), ...tries.map(told => withoutPhysics(textOf(told)))];
	return texts.find(text => text.length < mostCharacters) ?? itemAt(texts, texts.length - 1);
}

function section(fault: Fault, withGates = true): string[] {
	const list = (texts: readonly string[], mark: (index: number) => string) =>
		texts.map((text, index) => `${mark(index)} ${escapeMarkdown(text)}`);
	const numbers = (index: number) => `${index + 1}.`;
	return [
		`## ${fault.code}`,
		'',
		`**${escapeMarkdown(fault.title)}** (${fault.status}; judged on ${judgedOn(fault)})`,
		'',
		escapeMarkdown(fault.definition),
		'',
		escapeMarkdown(fault.physics),
		'',
		'Likely causes, likeliest first:',
		'',
		...list(fault.causes, numbers),
		'',
		'What to measure, and what it should read:',
		'',
		'| measure | should read |',
		'|---|---|',
		...fault.measurements.map(({measure, expect}) => `| ${escapeMarkdown(measure)} | ${escapeMarkdown(expect)} |`),
		'',
		'How to mend it:',
		'',
		...list(fault.remedy, () => '-'),
		'',
		...(fault.caution === undefined ? [] : [`> **Caution.** ${escapeMarkdown(fault.caution)}`, '']),
		...(withGates ? reported(fault) : []),
	];
}

/** What the check itself asks, as a table a way, with the limits that it reads. */
function reported(fault: Fault): string[] {
	if (fault.ways.length === 0) return ['Found by the bring-up only: it asks for one movement at a time.', ''];
	return waysInWords(fault).flatMap(({name, conditions}) => [
		`Reported${name === null ? '' : ` (${name})`} where all of these hold:`,
		'',
		'| gate | asks | found at | silent at | closes at | why |',
		'|---|---|---|---|---|---|',
		...conditions.map(({name: gate, asks, limit}) => {
			const numbers = [limit?.must, limit?.mustNot, limit?.clear].map(number => number ?? '');
			return `| ${[gateWords(gate), escapeMarkdown(asks), ...numbers, escapeMarkdown(sentence(limit?.because ?? ''))].join(' | ')} |`;
		}),
		'',
	]);
}

/** The page `docs/faults.md`: every finding of the catalogue, in Markdown. */
export function faultsPage(faults: readonly Fault[]): string {
	return [
		'# Findings',
		'',
		'Generated from the catalogue by `npm run docs`; do not edit. `glovebench explain CODE` prints the same in a terminal.',
		'',
		"Every finding has one of the four categories of NAMUR NE 107. Cautions are the usual ones; the parts' data sheets and local rules go first (see [cautions](cautions.md)).",
		'',
		'| status | meaning |',
		'|---|---|',
		...Object.entries(statusMeanings).map(([status, meaning]) => `| ${status} | ${meaning} |`),
		'',
		'`check` ends with exit status 1 where something at failure or out-of-spec weighs: it is there at the end, or it comes and goes by nature.',
		'',
		'The tables of gates are those the program decides by. A figure beyond what a gate asks speaks for the fault; *found at* and *silent at* are the definition that it lies between, and an open finding closes once its figure is back at *closes at*. `check --why CODE` tells of each channel which gate refused, and what it saw.',
		'',
		'| code | what it is | status |',
		'|---|---|---|',
		...faults.map(({code, title, status}) => `| [${code}](#${code}) | ${escapeMarkdown(title)} | ${status} |`),
		'',
		...faults.flatMap(fault => section(fault)),
	]
		.join('\n')
		.replace(/\n+$/, '\n');
}
