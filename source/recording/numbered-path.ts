/**
 * A path of its own for the second, third, … recording that goes by one name: the number stands before the ending, whatever
 * that is, so that the system knows each file for what it is. 1 is the path itself.
 *
 * @example
 * numberedPath('left.gbrec.gz', 2); // => 'left-2.gbrec.gz'
 */
export function numberedPath(path: string, number: number): string {
	if (number === 1) return path;
	const [, stem, ending = ''] = /^(.*?)((?<=[^./\\])\.[^./\\]*?(?:\.gz)?)?$/is.exec(path) ?? ['', path];
	return `${stem}-${number}${ending}`;
}
