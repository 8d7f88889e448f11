import pkg from '@xterm/headless';

export const columns = 20;
export const rows = 4;

/** A small terminal of another make than ours, with all of that written to it. */
export async function terminalWith(...writes: readonly string[]) {
	const terminal = new pkg.Terminal({cols: columns, rows, allowProposedApi: true});
	for (const text of writes) await new Promise<void>(resolve => terminal.write(text, resolve));
	return terminal;
}

/** Every cell with its looks, a text for each row. */
export function cellsOf(terminal: Awaited<ReturnType<typeof terminalWith>>): string[] {
	return Array.from({length: rows}, (_, y) => {
		const line = terminal.buffer.active.getLine(y);
		return Array.from({length: columns}, (_, x) => {
			const cell = line?.getCell(x);
			const looks = [cell?.isBold() && 'b', cell?.isInverse() && 'i', cell?.getFgColor()].filter(Boolean).join('');
			const text = cell?.getChars() || ' ';
			return text === ' ' && looks === '-1' ? ' ' : `${text}${looks === '-1' ? '' : `{${looks}}`}`;
		}).join('');
	});
}
