import {writeFile} from 'node:fs/promises';
import {createInterface} from 'node:readline/promises';
import {baudRange} from '../baud-range.ts';
import {boardWords} from '../board-words.ts';
import {CannotError} from '../cannot-error.ts';
import {type CommandIo, interruptedStatus} from '../command-line/command-io.ts';
import {isThere} from '../is-there.ts';
import {itemAt} from '../item-at.ts';
import {boards, findBoard} from '../sheet/boards/all.ts';
import {checkSheetFile} from '../sheet/load-sheet.ts';
import {type NewSheetAnswers, newSheet} from '../sheet/new-sheet.ts';
import {linkKinds, type Sheet} from '../sheet/sheet.ts';
import {sheetPage} from '../sheet/sheet-page.ts';
import {writeSheet} from '../sheet/write-sheet.ts';
import {closestNames} from '../text/closest-names.ts';
import {escapeText} from '../text/escape-text.ts';
import {tool} from '../version.ts';

/** Uses about 80 % of a 270° track for a cord travel of 38 mm (docs/plan.md). */
const usualSpoolMm = 20;

const sheetActions = ['new', 'check', 'keys'] as const;

export type SheetOptions = {
	/** `new`, `check` or `keys`. */
	readonly action: string;
	/** `new`: where to write (standard output without); `check`: what to read. */
	readonly file?: string;
	/** `new`: board family; without it and with a terminal the rest is asked for. */
	readonly board?: string;
	readonly name?: string;
	/** `new`: a thumb stick; on unless false. */
	readonly stick?: boolean;
	readonly buttons?: number;
	readonly link?: string;
	readonly baud?: number;
	/** `new`: spool diameter in mm. */
	readonly spool?: number;
	/** `new`: battery in mAh; fed by USB without. */
	readonly battery?: number;
	/** `new`: replaces a file that is there. */
	readonly force?: boolean;
	readonly json?: boolean;
};

type SheetIo = Pick<CommandIo, 'stdin' | 'stdout' | 'stderr' | 'signal'>;

/**
 * `sheet new [FILE]`, `sheet check FILE`, `sheet keys`. Status 1 where a checked sheet has problems. Throws
 * `CannotError` for what cannot be read, written or understood.
 */
export async function sheetCommand(options: SheetOptions, io: SheetIo): Promise<number> {
	switch (options.action) {
		case 'new':
			return makeSheet(options, io);
		case 'check':
			return checkSheet(options, io);
		case 'keys':
			io.stdout.write(sheetPage());
			return 0;
		default:
			throw new CannotError(`sheet takes one of ${sheetActions.join(', ')}, not ${JSON.stringify(options.action)}.`);
	}
}

async function checkSheet({file, json}: SheetOptions, {stdout}: SheetIo): Promise<number> {
	if (file === undefined) throw new CannotError('sheet check needs a FILE: the sheet to check, such as glove.toml.');
	const {sheet, problems} = await checkSheetFile(file);
	if (json) {
		const {terminalSafeJson} = await import('../report/check-json.ts');
		stdout.write(
			`${terminalSafeJson({schema: 1, kind: 'sheet', tool: {name: tool.name, version: tool.version}, file, problems, sheet: sheet ?? null}, 2)}\n`,
		);
		return sheet ? 0 : 1;
	}

	const name = escapeText(file);
	if (sheet) stdout.write(`${name}: in order, ${sheet.channels.length} channels. Next: glovebench plan ${name}\n`);
	else for (const {line, message} of problems) stdout.write(`${name} line ${line}: ${escapeText(message)}\n`);
	return sheet ? 0 : 1;
}

async function makeSheet(options: SheetOptions, io: SheetIo): Promise<number> {
	// Before the questions: what is answered then is not lost.
	if (options.file !== undefined && options.force !== true && (await isThere(options.file)))
		throw alreadyThere(options.file);
	const mayAsk = options.board === undefined && io.stdin.isTTY === true && io.stderr.isTTY === true;
	const answers = mayAsk ? await askAnswers(options, io) : flagAnswers(options);
	if (answers === 'interrupted') {
		io.stderr.write('No sheet was written.\n');
		return interruptedStatus;
	}
	const sheet = newSheet(answers);
	const text = writeSheet(sheet, [
		'How this glove is built, as designed.',
		...wiringNotes(answers),
		...muxNotes(sheet),
	]);
	if (options.file === undefined) {
		io.stdout.write(text);
		return 0;
	}
	await save(options.file, text, options.force === true);
	const file = escapeText(options.file);
	io.stderr.write(`Wrote ${file}. Change it to what you build, then: glovebench plan ${file}\n`);
	return 0;
}

function wiringNotes({board}: NewSheetAnswers): string[] {
	return [
		`Pots and stick: outer legs to ${board.supplyVolts} V and ground of the board, middle leg to the pin. Buttons: pin to ground.`,
		...(board.pinVoltsMost < 5
			? [`Caution: ${board.title} stands at most ${board.pinVoltsMost} V on a pin; never feed a part from 5 V.`]
			: []),
		'Unplug the board before you touch its wiring.',
	];
}

/** A multiplexer stands in the pins only; what it is has to be said. */
function muxNotes({channels}: Sheet): string[] {
	const pin = channels.find(channel => channel.pin?.includes('/'))?.pin?.split('/')[0];
	return pin === undefined
		? []
		: [
				`The board has too few analog inputs: ${pin}/0 to ${pin}/7 are inputs of an 8-way analog multiplexer (4051 type) with its`,
				`common leg on ${pin}; three more pins choose the input.`,
			];
}

function alreadyThere(file: string): CannotError {
	return new CannotError(`${file} is there already. Give --force to replace it, or another name.`);
}

async function save(file: string, text: string, force: boolean): Promise<void> {
	try {
		await writeFile(file, text, {flag: force ? 'w' : 'wx'});
	} catch (error) {
		const {code, message} = error as NodeJS.ErrnoException;
		if (code === 'EEXIST') throw alreadyThere(file);
		if (code === 'ENOENT') throw new CannotError(`Cannot write ${file}: there is no such folder. Make it first.`);
		throw new CannotError(`Cannot write ${file}: ${message}.`);
	}
}

function flagAnswers(options: SheetOptions): NewSheetAnswers {
	const families = boards.map(board => board.family);
	if (options.board === undefined) {
		throw new CannotError(`sheet new needs --board where no terminal is there to ask: one of ${families.join(', ')}.`);
	}
	const board = findBoard(options.board.toLowerCase());
	if (!board && Object.hasOwn(boardWords, options.board.toLowerCase())) {
		throw new CannotError(
			`A sheet knows no pins of ${options.board} yet: begin with --board of the nearest of ${families.join(', ')}, and set family = "other" in it.`,
		);
	}
	if (!board) throw notOneOf('--board', options.board, families);
	const link = linkKinds.find(kind => kind === (options.link ?? 'usb'));
	if (!link) throw notOneOf('--link', options.link ?? '', linkKinds);
	return {
		board,
		link,
		name: options.name,
		stick: options.stick !== false,
		buttons: inRange('--buttons', options.buttons ?? 2, 0, 16),
		baud: options.baud === undefined ? undefined : inRange('--baud', options.baud, baudRange.least, baudRange.most),
		spoolDiameterMm: inRange('--spool', options.spool ?? usualSpoolMm, 1, 200),
		batteryMah: options.battery === undefined ? undefined : inRange('--battery', options.battery, 1, 1_000_000),
	};
}

function notOneOf(option: string, given: string, words: readonly string[]): CannotError {
	return new CannotError(`${option} must not be ${JSON.stringify(given)}: it takes one of ${hinted(words, given)}`);
}

/** The words that are taken, and which of them may have been meant, as sentences. */
function hinted(words: readonly string[], given: string): string {
	const near = closestNames(given, words)[0];
	return `${words.join(', ')}.${near ? ` Did you mean ${near}?` : ''}`;
}

function inRange(option: string, value: number, least: number, most: number): number {
	if (value >= least && value <= most) return value;
	throw new CannotError(`${option} must not be ${value}: it takes a number from ${least} to ${most}.`);
}

/** Asks on the terminal; an empty answer takes what stands in brackets. Ctrl-C ends the questions. */
async function askAnswers(options: SheetOptions, io: SheetIo): Promise<NewSheetAnswers | 'interrupted'> {
	const terminal = createInterface({input: io.stdin, output: io.stderr, terminal: true});
	const stop = new AbortController();
	let isInterrupted = false;
	terminal.on('SIGINT', () => {
		isInterrupted = true;
		stop.abort();
	});
	// Input that has ended gives no answer either.
	terminal.on('close', () => stop.abort());
	const signal = AbortSignal.any([stop.signal, io.signal]);

	/** Asks until `read` makes something of the answer. */
	const ask = async <T>(
		question: string,
		usual: string,
		takes: string | ((answer: string) => string),
		read: (answer: string) => T | undefined,
	): Promise<T> => {
		for (;;) {
			const answer = (await terminal.question(`${question} [${usual}] `, {signal})).trim();
			const value = read(answer === '' ? usual : answer);
			if (value !== undefined) return value;
			io.stderr.write(`It takes ${typeof takes === 'string' ? `${takes}.` : takes(answer)}\n`);
		}
	};
	const word = (question: string, words: readonly string[], usual: string) =>
		ask(
			question,
			usual,
			given => hinted(words, given),
			answer => {
				const wanted = answer.toLowerCase();
				const begun = words.filter(candidate => candidate.startsWith(wanted));
				return words.find(candidate => candidate === wanted) ?? (begun.length === 1 ? begun[0] : undefined);
			},
		);
	const number = (question: string, usual: number, least: number, most: number) =>
		ask(question, String(usual), `a number from ${least} to ${most}`, answer => {
			const value = Number(answer.replace(',', '.'));
			return value >= least && value <= most ? value : undefined;
		});

	try {
		const families = boards.map(board => board.family);
		io.stderr.write(`Boards: ${families.join(', ')}\n`);
		const family = await word('Which board?', families, itemAt(families, 0));
		const stick = (await word('Is there a thumb stick? (yes, no)', ['yes', 'no'], 'yes')) === 'yes';
		const buttons = Math.round(await number('How many buttons?', options.buttons ?? 2, 0, 16));
		const spoolDiameterMm = await number('Spool diameter in mm?', options.spool ?? usualSpoolMm, 1, 200);
		const link = await word(`How does it reach the computer? (${linkKinds.join(', ')})`, linkKinds, 'usb');
		const battery = await number('Battery in mAh? (0: fed by USB)', options.battery ?? 0, 0, 1_000_000);
		const name = options.name ?? (await ask('What is it called?', '', 'any text', answer => answer));
		return {
			board: findBoard(family) as NewSheetAnswers['board'],
			stick,
			buttons,
			spoolDiameterMm,
			link: link as NewSheetAnswers['link'],
			name: name === '' ? undefined : name,
			baud: options.baud,
			batteryMah: battery > 0 ? battery : undefined,
		};
	} catch (error) {
		if (isInterrupted || io.signal.aborted) return 'interrupted';
		if (!signal.aborted) throw error;
		throw new CannotError(
			'No sheet was written: the input ended before the last question. With flags nothing is asked: --board …',
		);
	} finally {
		terminal.close();
	}
}
