import {appendFileSync} from 'node:fs';

/** True in the long run (`node tests/rough/long.mjs`), which takes minutes; among the other tests a few tries do. */
const isLong = process.env.ROUGH === 'long';

/** How often to try. */
export function tries(few: number, many: number): number {
	return isLong ? many : few;
}

/** Counts what was tried, for the table at the end of the long run. */
export function tally(what: string, count = 1): void {
	const {ROUGH_TALLY: file} = process.env;
	if (file) appendFileSync(file, `${JSON.stringify({what, count})}\n`);
}

/** Keeps a figure for the same table; of several the largest. */
export function measured(what: string, value: number): void {
	const {ROUGH_TALLY: file} = process.env;
	if (file) appendFileSync(file, `${JSON.stringify({what, value})}\n`);
}

/** Does something for each number below `count`, so many at once. */
export async function inTurns(count: number, atOnce: number, work: (index: number) => Promise<void>): Promise<void> {
	let next = 0;
	const worker = async (): Promise<void> => {
		while (next < count) await work(next++);
	};
	await Promise.all(Array.from({length: atOnce}, worker));
}

/** Whether the tests that need a disk, a network or a user of their own can have one. */
export const isRoot = process.platform === 'linux' && process.getuid?.() === 0;

/** The value, or the end of the test if it takes too long: what never ends must not hold up what comes after. */
export async function within<Value>(ms: number, value: Promise<Value>): Promise<Value> {
	let timer: NodeJS.Timeout | undefined;
	const tooLate = new Promise<never>((_, reject) => {
		timer = setTimeout(() => reject(new Error(`Nothing within ${ms} ms.`)), ms);
	});
	return Promise.race([value, tooLate]).finally(() => clearTimeout(timer));
}
