import type {CommandIo} from '../command-line/command-io.ts';
import {makePlan} from '../plan/make-plan.ts';
import {planText} from '../plan/plan-text.ts';
import {loadSheet} from '../sheet/load-sheet.ts';
import {asciiText} from '../text/ascii-text.ts';
import {tool} from '../version.ts';

export type PlanOptions = {
	/** The sheet file. */
	readonly sheet: string;
	readonly json?: boolean;
	readonly ascii?: boolean;
	/** Width of text, 60 to 120 columns; 80 where left out. */
	readonly columns?: number;
};

/**
 * `plan SHEET`: what will not work, and what to expect, before anything is built. Status 1 where something was found
 * at failure or out-of-spec. Throws `CannotError` for a sheet that cannot be read or has problems.
 */
export async function planCommand(
	{sheet: path, json, ascii, columns = 80}: PlanOptions,
	{stdout}: Pick<CommandIo, 'stdout'>,
): Promise<number> {
	const sheet = await loadSheet(path);
	const plan = makePlan(sheet);
	if (json) {
		const {terminalSafeJson} = await import('../report/check-json.ts');
		stdout.write(
			`${terminalSafeJson({schema: 1, kind: 'plan', tool: {name: tool.name, version: tool.version}, sheet: path, ...plan}, 2)}\n`,
		);
	} else {
		const text = planText(plan, sheet.name ? `${path} (${sheet.name})` : path, columns);
		stdout.write(ascii ? asciiText(text) : text);
	}
	return plan.findings.some(({status}) => status === 'failure' || status === 'out-of-spec') ? 1 : 0;
}
