/** What a key tells the routine. */
export type BringUpMessage = 'skip' | 'repeat' | 'quit' | 'interrupt' | 'suspend';

/** The keys of the guided routine: the key line on the screen and docs/bringup.md are made from this. */
export const bringUpKeys: readonly {readonly key: string; readonly message: BringUpMessage; readonly help: string}[] = [
	{key: 's', message: 'skip', help: 'skip'},
	{key: 'r', message: 'repeat', help: 'again, or a step back'},
	{key: 'q', message: 'quit', help: 'quit (goes on next time)'},
];

/** The message of a key, in either case; undefined for other keys. Ctrl-C interrupts, Ctrl-Z suspends. */
export function messageOf(input: string, isCtrl: boolean): BringUpMessage | undefined {
	if (isCtrl) return input === 'c' ? 'interrupt' : input === 'z' ? 'suspend' : undefined;
	return bringUpKeys.find(({key}) => key === input.toLowerCase())?.message;
}
