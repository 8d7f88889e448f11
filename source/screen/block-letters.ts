/** Our own letters, five rows of pixels each; `#` is ink. Channel names need small letters, digits and `-`. */
const shapes: Readonly<Record<string, readonly string[]>> = {
	a: [' ## ', '#  #', '####', '#  #', '#  #'],
	b: ['### ', '#  #', '### ', '#  #', '### '],
	c: [' ###', '#   ', '#   ', '#   ', ' ###'],
	d: ['### ', '#  #', '#  #', '#  #', '### '],
	e: ['####', '#   ', '### ', '#   ', '####'],
	f: ['####', '#   ', '### ', '#   ', '#   '],
	g: [' ###', '#   ', '# ##', '#  #', ' ###'],
	h: ['#  #', '#  #', '####', '#  #', '#  #'],
	i: ['###', ' # ', ' # ', ' # ', '###'],
	j: ['  ##', '   #', '   #', '#  #', ' ## '],
	k: ['#  #', '# # ', '##  ', '# # ', '#  #'],
	l: ['#   ', '#   ', '#   ', '#   ', '####'],
	m: ['#   #', '## ##', '# # #', '#   #', '#   #'],
	n: ['#  #', '## #', '# ##', '#  #', '#  #'],
	o: [' ## ', '#  #', '#  #', '#  #', ' ## '],
	p: ['### ', '#  #', '### ', '#   ', '#   '],
	q: [' ## ', '#  #', '#  #', '# ##', ' ###'],
	r: ['### ', '#  #', '### ', '# # ', '#  #'],
	s: [' ###', '#   ', ' ## ', '   #', '### '],
	t: ['#####', '  #  ', '  #  ', '  #  ', '  #  '],
	u: ['#  #', '#  #', '#  #', '#  #', ' ## '],
	v: ['#   #', '#   #', '#   #', ' # # ', '  #  '],
	w: ['#   #', '#   #', '# # #', '## ##', '#   #'],
	x: ['#   #', ' # # ', '  #  ', ' # # ', '#   #'],
	y: ['#   #', ' # # ', '  #  ', '  #  ', '  #  '],
	z: ['####', '  # ', ' #  ', '#   ', '####'],
	0: [' ## ', '#  #', '#  #', '#  #', ' ## '],
	1: [' # ', '## ', ' # ', ' # ', '###'],
	2: ['### ', '   #', ' ## ', '#   ', '####'],
	3: ['### ', '   #', ' ## ', '   #', '### '],
	4: ['#  #', '#  #', '####', '   #', '   #'],
	5: ['####', '#   ', '### ', '   #', '### '],
	6: [' ## ', '#   ', '### ', '#  #', ' ## '],
	7: ['####', '   #', '  # ', ' #  ', ' #  '],
	8: [' ## ', '#  #', ' ## ', '#  #', ' ## '],
	9: [' ## ', '#  #', ' ###', '   #', ' ## '],
	'-': ['   ', '   ', '###', '   ', '   '],
	' ': ['  ', '  ', '  ', '  ', '  '],
};

const pixelRows = 5;

/**
 * A word in block letters, as large as fits into `width` × `height` cells: pixels are two columns wide and one row
 * high, which is about square, or multiples of it; one column where two are too wide. A word that does not fit even so
 * comes back as one line of plain text, and so does one with a character that has no shape.
 */
export function blockLetters(word: string, width: number, height: number, ink: string): string[] {
	const letters = [...word.toLowerCase()].map(character => shapes[character]);
	const pixels = letters.reduce((sum, shape) => sum + (shape?.[0].length ?? 0) + 1, -1);
	if (letters.length === 0 || letters.includes(undefined as never)) return [word];
	let across = 0;
	let down = 0;
	for (const [columns, rows] of [
		[1, 1],
		[2, 1],
		[4, 2],
		[6, 3],
		[8, 4],
		[10, 5],
	]) {
		if (pixels * columns > width || pixelRows * rows > height) break;
		across = columns;
		down = rows;
	}

	if (across === 0) return [word];
	const lines: string[] = [];
	for (let line = 0; line < pixelRows; line++) {
		const text = letters
			.map(shape => [...shape[line]].map(pixel => (pixel === '#' ? ink : ' ').repeat(across)).join(''))
			.join(' '.repeat(across));
		for (let copy = 0; copy < down; copy++) lines.push(text);
	}

	return lines;
}
