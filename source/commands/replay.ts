import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import type {ShowOptions} from '../dashboard/show-desk.ts';
import type {Page} from '../dashboard/view-state.ts';
import {isLiveSpec} from '../sources/source-spec.ts';

type ReplayOptions = SourceOptions &
	ShowOptions & {
		readonly file: string;
		/** A second recording beside the first. */
		readonly second?: string;
		/** Stream seconds to begin at. */
		readonly at?: number;
		/** Begin held instead of playing. */
		readonly hold?: boolean;
		/** Times real time. */
		readonly speed?: number;
		/** The page to begin with. */
		readonly page?: Page;
	};

/**
 * `replay FILE [SECOND]`: the dashboard on a recording or log, or on two. Resolves to 0 when the user leaves, 130 after
 * Ctrl-C. Throws `CannotError` without a terminal and for a file that cannot be read.
 */
export async function replayCommand(options: ReplayOptions, io: CommandIo): Promise<number> {
	const {requireTerminal, showDesk} = await import('../dashboard/show-desk.ts');
	requireTerminal(io, `glovebench check ${options.file}`);
	const files = options.second === undefined ? [options.file] : [options.file, options.second];
	for (const file of files) {
		if (isLiveSpec(file)) {
			throw new CannotError(`${file} is a live source, which cannot be replayed: try \`glovebench attach ${file}\`.`);
		}
	}

	const gloves = [];
	for (const file of files) gloves.push(await openNamedSource(file, options, io));
	const {openReplayDesk} = await import('../dashboard/open-desk.ts');
	const {at, hold, speed, page} = options;
	const desk = await openReplayDesk(
		gloves,
		{
			...(at !== undefined && {at}),
			...(options.session !== undefined && {part: options.session}),
			...(hold !== undefined && {held: hold}),
			...(speed !== undefined && {speed}),
			...(page !== undefined && {page}),
		},
		io.signal,
	);
	return showDesk(desk, options, io);
}
