import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {type NamedSource, openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import type {LiveDeskOptions} from '../dashboard/open-desk.ts';
import type {ShowOptions} from '../dashboard/show-desk.ts';
import {checkPlace} from '../recording/check-place.ts';
import {isPlainFile} from '../sources/open-source.ts';

type AttachOptions = SourceOptions &
	LiveDeskOptions &
	ShowOptions & {
		readonly port: string;
		/** A second glove beside the first. */
		readonly second?: string;
	};

/**
 * `attach PORT [SECOND]`: the dashboard on a live glove or two. Resolves to 0 when the user leaves, 130 after Ctrl-C.
 * Throws `CannotError` without a terminal and for a port that cannot be opened.
 */
export async function attachCommand(options: AttachOptions, io: CommandIo): Promise<number> {
	const {requireTerminal, showDesk} = await import('../dashboard/show-desk.ts');
	const ports = options.second === undefined ? [options.port] : [options.port, options.second];
	requireTerminal(io, `glovebench check ${options.port}`);
	for (const port of ports) {
		if (await isPlainFile(port)) {
			throw new CannotError(`${port} is a file, which cannot be attached to: try \`glovebench replay ${port}\`.`);
		}
	}

	if (options.record !== undefined) await checkPlace(options.record, options.force === true);
	const gloves: NamedSource[] = [];
	try {
		for (const port of ports) gloves.push(await openNamedSource(port, {...options, reattach: true}, io));
		const {openLiveDesk} = await import('../dashboard/open-desk.ts');
		const desk = await openLiveDesk(gloves, options);
		return await showDesk(desk, options, io);
	} finally {
		await Promise.all(gloves.map(({source}) => source.close()));
	}
}
