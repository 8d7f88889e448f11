import {LineChange, type StageFinder, shareOf} from './line-stage.ts';

/** A code block of a chat or a forum: the fences go, what stands between them stays. */
export const findFences: StageFinder = sample => {
	const fence = /^\s*(?:```+|~~~+)\s*\w*\s*$/;
	const inside = /^```+(?=\S)|(?<=\S)```+$/g;
	if (!sample.some(line => line.includes('```') || fence.test(line))) return undefined;
	return new LineChange('marks of a code block', line => (fence.test(line) ? null : line.replaceAll(inside, '')));
};

/** Lines written as literals of a program: `b'512,498\r\n'`, `"512,498\n",`. */
export const findLiterals: StageFinder = sample => {
	const bytes = /^\s*[[(]?\s*b(['"])(.*)\1\s*[,\])]?\s*$/;
	const text = /^\s*[[(]?\s*(['"])((?:[^'"\\]|\\.)*\\[rn])\1\s*[,\])]?\s*$/;
	const isOne = (line: string): boolean => bytes.test(line) || text.test(line);
	if (shareOf(sample, isOne) < 0.5) return undefined;
	return new LineChange('quotes of a program around the line', line => {
		const inner = (bytes.exec(line) ?? text.exec(line))?.[2];
		if (inner === undefined) return line;
		return inner
			.replaceAll(/\\x([0-9a-f]{2})/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
			.replaceAll('\\t', '\t')
			.replaceAll(/\\[rn]/g, '')
			.replaceAll(/\\(['"\\])/g, '$1');
	});
};
