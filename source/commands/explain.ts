import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {adviceFor} from '../faults/advice.ts';
import type {Fault} from '../faults/fault.ts';
import {waysInWords} from '../faults/limit-text.ts';
import {namedFault} from '../faults/named-fault.ts';
import {faults} from '../faults/registry.ts';
import {explainText, faultList} from '../report/explain-text.ts';
import {faultSection, faultsPage} from '../report/faults-page.ts';
import {findBySymptom} from '../report/symptoms.ts';
import {asciiText} from '../text/ascii-text.ts';
import {tool} from '../version.ts';

export type ExplainOptions = {
	/** A finding's code; every code is listed without it. */
	readonly code?: string | undefined;
	/** Explains every finding. */
	readonly all?: boolean | undefined;
	readonly json?: boolean | undefined;
	/** Prints the page `docs/faults.md`, or one section of it. */
	readonly markdown?: boolean | undefined;
	/** What the builder sees, in words: lists the findings that it may be. */
	readonly symptom?: string;
	readonly ascii?: boolean;
	/** Width of text, 60 to 120 columns; 80 where left out. */
	readonly columns?: number;
};

/**
 * `explain [CODE]`: what a finding means, its likely causes, what to measure, how to mend it, cautions.
 * Without a code it lists all codes; with `all` it explains each. Throws `CannotError` for an unknown code.
 */
export async function explainCommand(options: ExplainOptions, io: Pick<CommandIo, 'stdout'>): Promise<number> {
	const text = answer(options);
	io.stdout.write(options.ascii ? asciiText(text) : text);
	return 0;
}

function answer({code, all, json, markdown, symptom, columns: width = 80}: ExplainOptions): string {
	if (symptom !== undefined) return bySymptom(symptom, {code, all, json, markdown}, width);
	const named = code === undefined ? undefined : namedFault(code);
	const asked = named === undefined ? faults : [named];
	if (json)
		return `${JSON.stringify({schema: 2, kind: 'explain', tool: {name: tool.name, version: tool.version}, findings: asked.map(asJson)}, null, 2)}\n`;
	if (markdown) return named === undefined ? faultsPage(asked) : faultSection(named);
	if (code === undefined && !all) return faultList(faults, width);
	const rule = '-'.repeat(Math.min(width, 60));
	return asked.map(fault => explainText(fault, width)).join(`${rule}\n`);
}

/** The findings that words may mean. Throws `CannotError` where none has any of them. */
function bySymptom(words: string, {code, all, json, markdown}: ExplainOptions, width: number): string {
	if (code !== undefined || all || json || markdown)
		throw new CannotError('--symptom looks for codes by words: leave out the code, --all, --json and --markdown.');
	const found = findBySymptom(words, faults);
	if (found.length === 0)
		throw new CannotError(
			`No finding is told in such words: ${JSON.stringify(words)}. Say what is seen, such as "ring jumps"; all codes: glovebench explain`,
		);
	return faultList(found, width);
}

/** A catalogue entry as it is printed: its words, and every limit with what it asks. */
function asJson(fault: Fault) {
	const {code, status, title, definition, physics, causes, measurements, remedy, scope} = fault;
	return {
		code,
		status,
		title,
		definition,
		physics,
		causes,
		measurements,
		advice: adviceFor(fault),
		remedy,
		caution: fault.caution ?? null,
		scope,
		intermittent: fault.intermittent === true,
		ways: waysInWords(fault).map(({name, conditions}) => ({
			name,
			gates: conditions.map(({name: gate, asks, limit}) => ({
				gate,
				asks,
				limit: limit && {
					raise: limit.raise,
					clear: limit.clear ?? limit.raise,
					must: limit.must,
					mustNot: limit.mustNot,
					unit: limit.unit,
					because: limit.because,
				},
			})),
		})),
	};
}
