import type {Command} from './command-io.ts';
import type {Options} from './parse-command-line.ts';

/** How to get at commands, by name. */
export type CommandLoaders = Readonly<Record<string, () => Promise<Command<Options>>>>;

/**
 * Where each command of the table lives. A module is read from disk only when its command was asked for, so that a
 * command that draws nothing loads neither Ink nor React.
 *
 * A command gets its options under their camelCase names and its arguments under theirs in lower case.
 */
export const commandLoaders: CommandLoaders = {
	ports: async () => as((await import('../commands/ports.ts')).portsCommand),
	attach: async () => as((await import('../commands/attach.ts')).attachCommand),
	replay: async () => as((await import('../commands/replay.ts')).replayCommand),
	record: async () => as((await import('../commands/record.ts')).recordCommand),
	check: async () => as((await import('../commands/check.ts')).checkCommand),
	report: async () => as((await import('../commands/report.ts')).reportCommand),
	share: async () => as((await import('../commands/share.ts')).shareCommand),
	fit: async () => as((await import('../commands/fit.ts')).fitCommand),
	bringup: async () => as((await import('../commands/bringup.ts')).bringUpCommand),
	compare: async () => as((await import('../commands/compare.ts')).compareCommand),
	mount: async () => as((await import('../commands/mount.ts')).mountCommand),
	frames: async () => as((await import('../commands/frames.ts')).framesCommand),
	link: async () => as((await import('../commands/link.ts')).linkCommand),
	explain: async () => as((await import('../commands/explain.ts')).explainCommand),
	simulate: async () => as((await import('../commands/simulate.ts')).simulateCommand),
	demo: async () => as((await import('../commands/demo.ts')).demoCommand),
	plan: async () => as((await import('../commands/plan.ts')).planCommand),
	sheet: async () => as((await import('../commands/sheet.ts')).sheetCommand),
	completions: async () => as((await import('../commands/completions.ts')).completionsCommand),
};

/** The command table vouches for what arrives: kinds are checked while the command line is read. */
function as<T>(command: Command<T>): Command<Options> {
	return command as unknown as Command<Options>;
}
