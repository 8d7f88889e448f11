import {runSession} from '../../source/session/run-session.ts';
import type {Session} from '../../source/session/session.ts';
import type {SessionOptions} from '../../source/session/session-options.ts';
import {loadSheet} from '../../source/sheet/load-sheet.ts';
import {parseSheet} from '../../source/sheet/parse-sheet.ts';
import {sheetSessionOptions} from '../../source/sheet/sheet-session-options.ts';
import type {Truth} from '../../source/simulator/simulate.ts';
import {openBytes} from '../../source/sources/open-file.ts';
import {openSource} from '../../source/sources/open-source.ts';
import type {Source} from '../../source/stream/source.ts';
import type {SourceItem} from '../../source/stream/source-item.ts';
import {memorySource} from '../gloves/memory-source.ts';
import type {Diagnosis, Look} from './diagnosis.ts';
import type {Expectation} from './expectation.ts';
import type {Declared} from './second-model/case.ts';
import {Watcher} from './watcher.ts';

/** How often a session is looked at while it runs, seconds of its own time. */
const lookSeconds = 2;

/** Runs the one session engine over a source, in this process, and looks at it as it goes. */
async function diagnose(
	source: Source,
	session: Omit<Partial<SessionOptions>, 'timing'>,
	expectation: Expectation,
): Promise<Diagnosis> {
	const watcher = new Watcher(expectation);
	let next = lookSeconds;
	const watch = (running: Session): void => {
		if (running.t < next) return;
		next += lookSeconds * Math.ceil((running.t - next) / lookSeconds + 1e-9);
		watcher.look(running.snapshot() satisfies Look);
	};
	const {snapshot} = await runSession(source, {session, watch});
	watcher.look(snapshot, true);
	return {...snapshot, seconds: snapshot.t, slips: [...watcher.slips]};
}

/** What the declarations of a user come to, as `check` takes them. */
function sessionOf({fullScale, layout, baud, targetRate, sheet}: Declared): Omit<Partial<SessionOptions>, 'timing'> {
	const parsed = sheet === undefined ? undefined : parseSheet(sheet);
	if (parsed && !parsed.sheet) throw new Error(`a drawn sheet is wrong: ${parsed.problems[0].message}`);
	return {
		...(parsed?.sheet && sheetSessionOptions(parsed.sheet)),
		...(fullScale !== undefined && {fullScale}),
		...(layout !== undefined && {layout}),
		...(baud !== undefined && {baud}),
		...(targetRate !== undefined && {targetRate}),
	};
}

/** A simulation of the product's own simulator. */
export function diagnoseItems(
	items: readonly SourceItem[],
	{declared, durationSeconds}: Truth,
	expectation: Expectation,
): Promise<Diagnosis> {
	const {baud, fullScale, layout, targetRate} = declared;
	const source = {...memorySource(items, {baud}), endedAt: () => durationSeconds};
	return diagnose(
		source,
		{fullScale, ...(layout !== null && {layout}), ...(targetRate !== null && {targetRate})},
		expectation,
	);
}

/** A log or a recording as it would lie in a file. */
export async function diagnoseText(text: string, declared: Declared, expectation: Expectation): Promise<Diagnosis> {
	const chunks = (async function* () {
		yield Buffer.from(text);
	})();
	const {rate, baud} = declared;
	const source = await openBytes('drawn', chunks, {
		...(rate !== undefined && {rate}),
		...(baud !== undefined && {baud}),
	});
	return diagnose(source, sessionOf(declared), expectation);
}

/** A file, with the options that `check` would be given. */
export async function diagnoseFile(
	path: string,
	options: Omit<Declared, 'sheet'> & {readonly sheetPath?: string},
	expectation: Expectation,
): Promise<Diagnosis> {
	const {rate, baud, sheetPath} = options;
	const sheet = sheetPath === undefined ? {} : sheetSessionOptions(await loadSheet(sheetPath));
	const source = await openSource(path, {...(rate !== undefined && {rate}), ...(baud !== undefined && {baud})});
	return diagnose(source, {...sheet, ...sessionOf(options)}, expectation);
}
