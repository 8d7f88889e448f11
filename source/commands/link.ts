import {CannotError} from '../cannot-error.ts';
import type {CommandIo} from '../command-line/command-io.ts';
import {openNamedSource, type SourceOptions} from '../command-line/source-options.ts';
import {FrameTap} from '../frames/frame-tap.ts';
import {PartOfLog} from '../frames/part-of-log.ts';
import {SettledFrames} from '../frames/settled-frames.ts';
import {LinkAccountant} from '../link/link-account.ts';
import {linkText, type NamedAccount, stretchSentence} from '../link/link-text.ts';
import {ProgressBar} from '../report/progress-bar.ts';
import {requireFrames} from '../report/require-frames.ts';
import {runSession} from '../session/run-session.ts';
import {isPlainFile} from '../sources/open-source.ts';
import type {SourceItem} from '../stream/source-item.ts';
import {escapeText} from '../text/escape-text.ts';
import {listText} from '../text/list-text.ts';

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
	const isFile = await isPlainFile(name);
	const bar = new ProgressBar(io.stderr, `Reading ${escapeText(name, 40)}`);
	const {source, session} = await openNamedSource(name, options, io);
	const accountant = new LinkAccountant({
		windowSeconds: window,
		...(mark !== undefined && {mark}),
		isTimed: source.info.timing !== 'assumed',
	});
	if (isFile) {
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
		requireMark(
			mark,
			layoutNow.channels.map(channel => channel.name),
		);
		// What the columns turned out to be holds from the first frame on, unless the frames themselves change.
		const width = layoutNow.channels.length;
		accountant.layout(layoutNow);
		const tap = new FrameTap(
			{
				layout: (_t, layout) => {
					if (layout.channels.length !== width) accountant.layout(layout);
				},
				frame: (t, values) => accountant.frame(t, values),
				badLine: () => accountant.badLine(),
			},
			session.layout,
		);
		const part = new PartOfLog(run.info, tap, (t, text) => accountant.mark(t, text));
		const again = await openNamedSource(name, options, io);
		let received = 0;
		try {
			reading: for await (const batch of again.source.batches()) {
				for (const item of batch) {
					if (item.t > (options.for ?? Number.POSITIVE_INFINITY) || io.signal.aborted) break reading;
					part.push(item);
					if ('bytes' in item) received += item.bytes.length;
				}

				if (source.totalBytes) bar.show(0.5 + Math.min(0.5, received / source.totalBytes / 2));
			}
		} finally {
			await again.source.close();
		}

		tap.end();
		bar.clear();
		return {name, account: accountant.account(run.snapshot.t)};
	}

	io.stderr.write(
		`Reading ${escapeText(name)}${options.for === undefined ? ' until Ctrl-C' : ` for ${options.for} s`}: walk, and press a button of the glove at each mark (or make three quick fists). Mind stairs and trailing cables.\n`,
	);
	const settled = new SettledFrames(
		{
			layout: (_t, layout) => {
				requireMark(
					mark,
					layout.channels.map(channel => channel.name),
				);
				accountant.layout(layout);
			},
			frame: (t, values) => accountant.frame(t, values),
		},
		session.layout !== undefined,
	);
	const tap = new FrameTap(
		{
			layout: (t, layout, change) => settled.layout(t, layout, change),
			frame: (t, values) => settled.frame(t, values),
			badLine: () => accountant.badLine(),
		},
		session.layout,
	);
	// Somebody may stand at the computer while the other one walks.
	const isLive = source.info.kind === 'serial' || source.info.kind === 'tcp';
	let told = Number.NaN;
	const tellWindows = (): void => {
		if (Number.isNaN(told)) told = accountant.lastAt;
		while (accountant.lastAt >= told + window) {
			io.stderr.write(`${stretchSentence(accountant.stretchNow(told, told + window))}\n`);
			told += window;
		}
	};
	const stop = (): void => void source.close();
	io.signal.addEventListener('abort', stop, {once: true});
	let end = 0;
	try {
		for await (const batch of source.batches()) {
			for (const item of batch) {
				take(item, tap, accountant);
				end = Math.max(end, item.t);
			}

			if (isLive) tellWindows();
		}

		end = Math.max(end, source.now?.() ?? 0);
	} finally {
		io.signal.removeEventListener('abort', stop);
		await source.close();
	}

	tap.end();
	settled.end();
	if (tap.frames === 0) throw noFrames(name);
	return {name, account: accountant.account(end)};
}

function take(item: SourceItem, tap: FrameTap, accountant: LinkAccountant): void {
	if ('mark' in item) accountant.mark(item.t, item.mark);
	else tap.push(item);
}

function requireMark(mark: string | undefined, names: readonly string[]): void {
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
