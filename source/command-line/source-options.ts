import {CannotError} from '../cannot-error.ts';
import type {SessionOptions} from '../session/session-options.ts';
import type {Sheet} from '../sheet/sheet.ts';
import {openSource} from '../sources/open-source.ts';
import {parseSourceSpec} from '../sources/source-spec.ts';
import type {Source} from '../stream/source.ts';
import {fullStop} from '../text/full-stop.ts';
import type {CommandIo} from './command-io.ts';

/** The common options of every command that reads a glove, as the command line gives them. */
export type SourceOptions = {
	/** Path of the sheet. */
	readonly sheet?: string;
	readonly baud?: number | 'auto';
	readonly fullScale?: number;
	readonly layout?: string;
	readonly rate?: number;
	/** Which of the sessions that a log holds is meant, from 1; the last without it. */
	readonly session?: number;
	/** False: open the port without the DTR pulse. */
	readonly reset?: boolean;
	/** Seconds after which a live source ends. */
	readonly for?: number;
	/** After the port is lost, wait for it to come back. */
	readonly reattach?: boolean;
};

/** What a session is told about the glove. */
export type Declared = Omit<Partial<SessionOptions>, 'timing'>;

/** An open source, what is declared about the glove on it, and the sheet that said so, if any. */
export type NamedSource = {readonly source: Source; readonly session: Declared; readonly sheet: Sheet | undefined};

/**
 * Opens a source by name and gathers what is declared about the glove: by options first, then by `--sheet`, then by
 * the sheet in a recording. Throws `CannotError` for a sheet or a source that cannot be read.
 */
export async function openNamedSource(
	name: string,
	options: SourceOptions,
	{stdin, signal}: Pick<CommandIo, 'stdin' | 'signal'>,
): Promise<NamedSource> {
	refuseWithoutPort(name, options);
	// The parser of sheets is not loaded where there is none.
	const given = options.sheet === undefined ? undefined : await readSheet(options.sheet);
	const baud = options.baud ?? given?.session.baud ?? undefined;
	const source = await openSource(name, {
		...(baud !== undefined && {baud}),
		...(options.rate !== undefined && {rate: options.rate}),
		...(options.for !== undefined && {forSeconds: options.for}),
		...(options.reattach !== undefined && {reattach: options.reattach}),
		noReset: options.reset === false,
		stdin,
		signal,
	});
	const declared = given ?? (source.info.sheet === undefined ? undefined : await storedSheet(source));
	return {
		source,
		sheet: declared?.sheet,
		session: {
			...declared?.session,
			// With `auto` the source tells which rate it found.
			...(options.baud !== undefined && {baud: options.baud === 'auto' ? source.info.baud : options.baud}),
			...(options.fullScale !== undefined && {fullScale: options.fullScale}),
			...(options.layout !== undefined && {layout: options.layout}),
		},
	};
}

/** A file, a pipe and a network connection have no rate to find and no line that restarts a board. */
function refuseWithoutPort(name: string, {baud, reset}: SourceOptions): void {
	const asked = [...(baud === 'auto' ? ['--baud auto'] : []), ...(reset === false ? ['--no-reset'] : [])];
	if (asked.length === 0 || parseSourceSpec(name).kind === 'serial') return;
	const what = name === '-' ? 'standard input' : name;
	throw new CannotError(
		`${asked.join(' and ')} ${asked.length === 1 ? 'is' : 'are'} about a serial port, which ${what} is not: leave ${asked.length === 1 ? 'it' : 'them'} out.`,
	);
}

async function readSheet(path: string) {
	const {loadSheet} = await import('../sheet/load-sheet.ts');
	return withOptions(await loadSheet(path));
}

async function storedSheet(source: Source) {
	const {sheetFromJson} = await import('../sheet/parse-sheet.ts');
	const {sheet, problems} = sheetFromJson(source.info.sheet);
	if (sheet) return withOptions(sheet);
	await source.close();
	throw new CannotError(
		`The sheet stored in ${source.info.name} cannot be used: ${fullStop(problems[0].message)} Give a sheet of your own with --sheet.`,
	);
}

async function withOptions(sheet: Sheet): Promise<{sheet: Sheet; session: Declared}> {
	const {sheetSessionOptions} = await import('../sheet/sheet-session-options.ts');
	return {sheet, session: sheetSessionOptions(sheet)};
}
