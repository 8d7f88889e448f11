import {attachEntry} from '../commands/attach.entry.ts';
import {bringUpEntry} from '../commands/bringup.entry.ts';
import {checkEntry} from '../commands/check.entry.ts';
import {compareEntry} from '../commands/compare.entry.ts';
import {completionsEntry} from '../commands/completions.entry.ts';
import {demoEntry} from '../commands/demo.entry.ts';
import {explainEntry} from '../commands/explain.entry.ts';
import {fitEntry} from '../commands/fit.entry.ts';
import {framesEntry} from '../commands/frames.entry.ts';
import {linkEntry} from '../commands/link.entry.ts';
import {mountEntry} from '../commands/mount.entry.ts';
import {planEntry} from '../commands/plan.entry.ts';
import {portsEntry} from '../commands/ports.entry.ts';
import {recordEntry} from '../commands/record.entry.ts';
import {replayEntry} from '../commands/replay.entry.ts';
import {reportEntry} from '../commands/report.entry.ts';
import {shareEntry} from '../commands/share.entry.ts';
import {sheetEntry} from '../commands/sheet.entry.ts';
import {simulateEntry} from '../commands/simulate.entry.ts';
import type {CommandEntry} from './command-entry.ts';

/** The commands that work, in the order in which help lists them; each is described beside the command itself. */
export const commandTable: readonly CommandEntry[] = [
	portsEntry,
	attachEntry,
	replayEntry,
	checkEntry,
	recordEntry,
	reportEntry,
	shareEntry,
	fitEntry,
	bringUpEntry,
	compareEntry,
	mountEntry,
	framesEntry,
	linkEntry,
	explainEntry,
	planEntry,
	simulateEntry,
	demoEntry,
	sheetEntry,
	completionsEntry,
];

/** The entry of a command, or undefined where there is none of that name. */
export function findCommand(name: string): CommandEntry | undefined {
	return commandTable.find(entry => entry.name === name);
}
