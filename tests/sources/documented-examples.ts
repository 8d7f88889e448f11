import {readFileSync} from 'node:fs';
import type {SourceItem} from '../../source/stream/source-item.ts';

/** An example of a page in docs/: an input and what the page says of it. */
export type DocumentedExample = {
	/** Where the input begins, for the test's name. */
	readonly line: number;
	readonly language: string;
	readonly input: Buffer;
	readonly items: string;
};

/** The examples of a page: each code block that is followed by a block of `items`. */
export function documentedExamples(page: string): DocumentedExample[] {
	const text = readFileSync(new URL(`../../docs/${page}`, import.meta.url), 'utf8');
	const blocks = [...text.matchAll(/^```(\S+)\n([\s\S]*?)^```$/gm)].map(match => ({
		line: text.slice(0, match.index).split('\n').length,
		language: match[1]!,
		content: match[2]!,
	}));
	return blocks.flatMap((block, index) => {
		const next = blocks[index + 1];
		if (next?.language !== 'items') return [];
		const {content, language, line} = block;
		// A cut file has no line end where it was cut.
		const kept = language.endsWith('-cut') ? content.replace(/\n$/, '') : content;
		const input = language.endsWith('-hex') ? Buffer.from(content.replaceAll(/\s/g, ''), 'hex') : Buffer.from(kept);
		return [{line, language, input, items: next.content}];
	});
}

/** Items as the pages write them. */
export function writeItems(items: readonly SourceItem[]): string {
	return items
		.map(item => {
			if ('event' in item) return `${item.t} event ${item.event}\n`;
			if ('mark' in item) return `${item.t} mark ${item.mark}\n`;
			const bytes = Buffer.from(item.bytes);
			const text = bytes.toString('utf8');
			return Buffer.from(text).equals(bytes)
				? `${item.t} ${JSON.stringify(text)}\n`
				: `${item.t} hex ${bytes.toString('hex').replaceAll(/(..)(?!$)/g, '$1 ')}\n`;
		})
		.join('');
}
