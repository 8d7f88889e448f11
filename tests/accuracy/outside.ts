import {existsSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {parseCommandLine} from '../../source/command-line/parse-command-line.ts';
import type {SourceOptions} from '../../source/command-line/source-options.ts';
import {diagnoseFile} from './diagnose.ts';
import type {Diagnosis} from './diagnosis.ts';
import {type Expectation, type May, type Must, nothing} from './expectation.ts';

/** A log that somebody else drew or recorded. */
export type OutsideCase = {
	readonly row: string;
	readonly name: string;
	readonly expectation: Expectation;
	readonly diagnose: () => Promise<Diagnosis>;
};

const readJson = (path: string): unknown => {
	try {
		return JSON.parse(readFileSync(path, 'utf8'));
	} catch (error) {
		throw new Error(`${path} cannot be read: ${error instanceof Error ? error.message : error}.`);
	}
};

/** The options that `check` would be given, read as `check` reads them. */
function optionsOf(path: string, words: readonly string[]): Parameters<typeof diagnoseFile>[1] {
	const line = parseCommandLine(['check', path, ...words]);
	if (line.wants !== 'command') throw new Error(`${words.join(' ')} are no options of check.`);
	const {rate, fullScale, layout, baud, sheet} = line.options as SourceOptions;
	return {
		...(rate !== undefined && {rate}),
		...(fullScale !== undefined && {fullScale}),
		...(layout !== undefined && {layout}),
		...(typeof baud === 'number' && {baud}),
		...(sheet !== undefined && {sheetPath: sheet}),
	};
}

function outsideCase(
	folder: string,
	file: string,
	row: string,
	words: readonly string[],
	expectation: Expectation,
): OutsideCase {
	const path = join(folder, file);
	return {row, name: file, expectation, diagnose: () => diagnoseFile(path, optionsOf(path, words), expectation)};
}

/** An entry of truth.json: what was drawn into one log. */
type DrawnTruth = {
	readonly file: string;
	readonly family: string;
	readonly args: readonly string[];
	readonly evidenceAt: number | null;
	readonly must: readonly DrawnMust[];
	readonly may: readonly {readonly code: string; readonly channel: string | null}[];
};

type DrawnMust = {
	readonly code: string;
	readonly codes?: readonly string[];
	readonly channel: string | null;
	readonly or?: string;
};

/** A folder of drawn logs with truth.json: `must` and `may` of each, a channel of null being any. */
export function drawnFolder(folder: string): OutsideCase[] {
	const truths = readJson(join(folder, 'truth.json')) as readonly DrawnTruth[];
	return truths.map(({file, family, args, must, may, evidenceAt}) =>
		outsideCase(folder, file, family, args, {
			...nothing,
			musts: must.map(
				({code, codes, channel, or}): Must => ({
					codes: codes ?? [code],
					channels: channel === null ? 'any' : [channel, ...(or === undefined ? [] : [or])],
					from: null,
					evidenceAt,
					until: null,
				}),
			),
			mays: may.map(({code, channel}): May => ({code, channels: channel === null ? 'any' : [channel]})),
		}),
	);
}

/** An entry of manifest.json: one log made from recordings. */
type LogEntry = {
	readonly file: string;
	readonly dataset: string;
	readonly args: readonly string[];
};

/** What is known of a fault in a recording; codes may be several, parted by bars. */
type Known = {
	readonly code: string;
	readonly channel?: string | null;
	readonly from?: number;
	readonly onset?: number;
	readonly until?: number;
	readonly except?: readonly string[];
};

type KnownList = {readonly must?: readonly Known[]; readonly may?: readonly Known[]};

type ExpectFile = {
	readonly default?: KnownList;
	readonly datasets?: Readonly<Record<string, KnownList>>;
	readonly logs?: Readonly<Record<string, KnownList>>;
};

/**
 * A folder of recorded logs with manifest.json, and the file that says what is true of them. Plain joins are passed
 * over: a leap from one take to the next is nothing that a glove did.
 */
export function recordedFolder(folder: string, expectPath: string | undefined): OutsideCase[] {
	const entries = readJson(join(folder, 'manifest.json')) as readonly LogEntry[];
	const path = expectPath ?? join(folder, 'expect.json');
	const expect = (expectPath !== undefined || existsSync(path) ? readJson(path) : {}) as ExpectFile;
	return entries
		.filter(({dataset}) => dataset !== 'joined')
		.map(({file, dataset, args}) => {
			const lists = [expect.logs?.[file], expect.datasets?.[dataset], expect.default];
			const musts = lists.flatMap(list => list?.must ?? []).filter(({except}) => !except?.includes(file));
			const mays = lists.flatMap(list => list?.may ?? []);
			return outsideCase(folder, file, dataset, args, {
				...nothing,
				musts: musts.map(mustOf),
				mays: mays.flatMap(maysOf),
			});
		});
}

const placeOf = ({code, channel}: Known): {codes: readonly string[]; channels: readonly (string | null)[] | 'any'} => ({
	codes: code.split('|'),
	channels: channel === undefined || channel === null ? 'any' : [channel],
});

/** What is flagged this long before it began, or after it ended, is something else. */
const earlySeconds = 5;
const lateSeconds = 10;

function mustOf(known: Known): Must {
	const {onset, from, until} = known;
	return {
		...placeOf(known),
		from: onset ?? from ?? null,
		evidenceAt: onset ?? null,
		until: null,
		...(until !== undefined && {flaggedBy: until + lateSeconds}),
	};
}

function maysOf(known: Known): May[] {
	const {onset, from, until} = known;
	const {codes, channels} = placeOf(known);
	const begin = onset ?? from;
	return codes.map(code => ({
		code,
		channels,
		...(begin !== undefined && {flaggedFrom: begin - earlySeconds}),
		...(until !== undefined && {flaggedBy: until + lateSeconds}),
	}));
}
