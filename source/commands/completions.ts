import type {CommandIo} from '../command-line/command-io.ts';
import {bashCompletions} from '../command-line/completions-bash.ts';
import {fishCompletions} from '../command-line/completions-fish.ts';
import {zshCompletions} from '../command-line/completions-zsh.ts';

/** `glovebench completions SHELL`: prints a script that the shell reads to complete commands, options and values. */
export async function completionsCommand(
	options: {readonly shell: 'bash' | 'zsh' | 'fish'},
	io: Pick<CommandIo, 'stdout'>,
): Promise<number> {
	const scripts = {bash: bashCompletions, zsh: zshCompletions, fish: fishCompletions};
	io.stdout.write(scripts[options.shell]());
	return 0;
}
