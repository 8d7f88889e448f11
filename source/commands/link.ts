import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {type NamedSource, openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import {type FrameTaker, FrameTap} from '../frames/frame-tap.ts';
import {PartOfLog} from '../frames/part-of-log.ts';
import {SettledFrames} from '../frames/settled-frames.ts';
import type {Layout} from '../framing/layout.ts';
import {LinkAccountant} from '../link/link-account.ts';
import {linkText, type NamedAccount, stretchSentence} from '../link/link-text.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {requireFrames} from '../report/require-frames.ts';
import {runSession} from '../session/run-session.ts';
import {isPlainFile} from '../sources/open-source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';
import {readAgain} from './read-again.ts';

export type LinkOptions = SourceOptions & {
	readonly source: string;
	/** Seconds to read. A port is read until stopped without it. */
	readonly for?: number;
	/** Seconds of a stretch where no marks make them. */
	readonly window?: number;
	readonly mark?: string;
	/** A second source, set beside the first. */
	readonly other?: string;
	readonly json?: boolean;
	/** Writes the account as a page to this file, besides. */
	readonly html?: string;
	readonly ascii?: boolean;
	readonly columns?: number;
};

type LinkIo = Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>;

const usualWindowSeconds = 10;

/**
 * `link SOURCE`: the account of a link, stretch by stretch, as text or JSON. Status 1 where the whole or a stretch of it is
 * bad. Throws `CannotError` for what cannot be read, or has no frame in it.
 */
export async function linkCommand(options: LinkOptions, io: LinkIo): Promise<number> {
	if (options.window !== undefined && options.window < 1)
		throw new CannotError(
			'--window takes a second at least, such as 5s: in less there are too few frames for a share.',
		);
	if (options.other === '-' && options.source === '-')
		throw new CannotError('Standard input can be one of the two only: name a file for the other.');
	const account = await accountOf(options.source, options, io);
	const other = options.other === undefined ? undefined : await accountOf(options.other, options, io);
	if (options.html !== undefined) {
		const [{writePage}, {linkPage}] = await Promise.all([
			import('../report/write-page.ts'),
			import('../report/html/link-page.ts'),
		]);
		await writePage(options.html, linkPage(account, other));
	}

	if (options.json) {
		const [{linkJson}, {terminalSafeJson}] = await Promise.all([
			import('../link/link-json.ts'),
			import('../report/check-json.ts'),
		]);
		io.stdout.write(`${terminalSafeJson(linkJson(account, other), 2)}\n`);
	} else {
		const {ascii, columns} = options;
		io.stdout.write(linkText(account, other, {ascii: ascii === true, ...(columns !== undefined && {columns})}));
	}

	const {whole, stretches} = account.account;
	return whole.verdict === 'bad' || stretches.some(({verdict}) => verdict === 'bad') ? 1 : 0;
}

/** Reads a source to its end; a file once more before, so that its columns and its sessions are known from the first frame on. */
async function accountOf(name: string, options: LinkOptions, io: LinkIo): Promise<NamedAccount> {
	const {window = usualWindowSeconds, mark} = options;
	const opened = await openNamedSource(name, options, io);
	const accountant = new LinkAccountant({
		windowSeconds: window,
		...(mark !== undefined && {mark}),
		isTimed: opened.source.info.timing !== 'assumed',
	});
	const read = (await isPlainFile(name)) ? readFile : readAsItComes;
	const seconds = await read(name, opened, accountant, options, io);
	return {name, account: accountant.account(seconds)};
}

/** Reads all that a source sends into an account. Gives how long that was, stream seconds. */
type ReadInto = (
	name: string,
	opened: NamedSource,
	accountant: LinkAccountant,
	options: LinkOptions,
	io: LinkIo,
) => Promise<number>;

const readFile: ReadInto = async (name, {source, session}, accountant, options, io) => {
	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name, 40)}`);
	const run = await runSession(source, {
		session,
		signal: io.signal,
		...(options.for !== undefined && {forSeconds: options.for}),
		...(options.session !== undefined && {part: options.session}),
		progress: share => bar.show(share / 2),
	});
	requireFrames(run);
	const {layoutNow} = run.session;
	if (layoutNow === null || run.snapshot.link.frames === 0) throw noFrames(name);
	requireMark(options.mark, layoutNow);
	// What the columns turned out to be holds from the first frame on, unless the frames themselves change.
	const width = layoutNow.channels.length;
	accountant.layout(layoutNow);
	const taker: FrameTaker = {
		layout(_t, layout) {
			if (layout.channels.length !== width) accountant.layout(layout);
		},
		frame: (t, values) => accountant.frame(t, values),
		badLine: () => accountant.badLine(),
	};
	const tap = new FrameTap(taker, session.layout);
	const part = new PartOfLog(run.info, tap, (t, text) => accountant.mark(t, text));
	const again = await openNamedSource(name, options, io);
	await readAgain(again.source, item => part.push(item), {
		...(options.for !== undefined && {until: options.for}),
		bar,
		isOver: () => io.signal.aborted,
	});
	tap.end();
	bar.clear();
	return run.snapshot.t;
};

const readAsItComes: ReadInto = async (name, {source, session}, accountant, options, io) => {
	const {mark, window = usualWindowSeconds} = options;
	const howLong = options.for === undefined ? ' until Ctrl-C' : ` for ${options.for} s`;
	io.stderr.write(
		`Reading ${escapeText(name)}${howLong}: walk, and press a button of the glove at each mark (or make three quick fists). Mind stairs and trailing cables.\n`,
	);
	const taker: FrameTaker = {
		layout(_t, layout) {
			requireMark(mark, layout);
			accountant.layout(layout);
		},
		frame: (t, values) => accountant.frame(t, values),
	};
	const settled = new SettledFrames(taker, session.layout !== undefined);
	const tapped: FrameTaker = {
		layout: (t, layout, change) => settled.layout(t, layout, change),
		frame: (t, values) => settled.frame(t, values),
		badLine: () => accountant.badLine(),
	};
	const tap = new FrameTap(tapped, session.layout);
	// Somebody may stand at the computer while the other one walks.
	const isLive = source.info.kind === 'serial' || source.info.kind === 'tcp';
	const tell = isLive ? windowTeller(accountant, window, io.stderr) : () => {};
	const stop = (): void => void source.close();
	io.signal.addEventListener('abort', stop, {once: true});
	let end = 0;
	try {
		for await (const batch of source.batches()) {
			for (const item of batch) {
				take(item, tap, accountant);
				end = Math.max(end, item.t);
			}

			tell();
		}

		end = Math.max(end, source.now?.() ?? 0);
	} finally {
		io.signal.removeEventListener('abort', stop);
		await source.close();
	}

	tap.end();
	settled.end();
	if (tap.frames === 0) throw noFrames(name);
	return end;
};

/** Says of each stretch how it was, once it is over. */
function windowTeller(accountant: LinkAccountant, window: number, stderr: LinkIo['stderr']): () => void {
	let told = Number.NaN;
	return () => {
		if (Number.isNaN(told)) told = accountant.lastAt;
		while (accountant.lastAt >= told + window) {
			stderr.write(`${stretchSentence(accountant.stretchNow(told, told + window))}\n`);
			told += window;
		}
	};
}

function take(item: SourceItem, tap: FrameTap, accountant: LinkAccountant): void {
	if ('mark' in item) accountant.mark(item.t, item.mark);
	else tap.push(item);
}

function requireMark(mark: string | undefined, {channels}: Layout): void {
	const names = channels.map(({name}) => name);
	if (mark === undefined || names.includes(mark)) return;
	throw new CannotError(
		`--mark: no channel is called ${escapeText(JSON.stringify(mark), 40)}; there are ${listText(names)}.`,
	);
}

function noFrames(name: string): CannotError {
	return new CannotError(
		`${escapeText(name, 60)} had no frame in it: glovebench check ${escapeText(name, 60)} says what is in it.`,
	);
}
