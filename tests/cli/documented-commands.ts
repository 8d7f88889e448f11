/** A command of a page, with the output that is shown for it. */
export type Example = {readonly line: string; readonly shown: readonly string[]};

/** Blocks of a kind, in order. */
export function blocksOf(page: string, kind: string): string[] {
	return [...page.matchAll(new RegExp(`^\`\`\`${kind}\\n([\\s\\S]*?)^\`\`\`$`, 'gm'))].map(match => match[1]);
}

/** Commands of the console blocks, each with the output that is shown for it. */
export function examplesOf(page: string): Example[] {
	return blocksOf(page, 'console').flatMap(block =>
		block
			.split(/^\$ /m)
			.filter(Boolean)
			.map(part => {
				const [line, ...shown] = part.trimEnd().split('\n');
				return {line, shown};
			}),
	);
}

/** True where the lines shown are in the output in this order; `…` stands for anything, more lines or the rest of one. */
export function matches(output: string, shown: readonly string[]): boolean {
	const quote = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
	const parts = shown.map(line => (line === '…' ? '(?:.*\\n)*' : `${line.split('…').map(quote).join('.*')}\\n`));
	return new RegExp(`^${parts.join('')}$`).test(output);
}
