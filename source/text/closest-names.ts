/**
 * Up to three of `names` that a misspelt `text` may have meant, nearest first; empty where none is near.
 *
 * Distance is edit distance with swapped neighbours counting once (optimal string alignment). As many edits are allowed as leave a
 * word recognisable (common practice, no source): one in a text of up to three letters, two in a longer one, a third of the
 * letters of one beyond eight. Letter case, `_`, `-` and spaces make no difference. A name that contains the whole text (`hum` in
 * `mains-hum`) counts as near too.
 *
 * @example
 * closestNames('pinn', ['pin', 'name']); // => ['pin']
 */
export function closestNames(text: string, names: readonly string[]): string[] {
	const wanted = plain(text);
	if (wanted === '') return [];
	const allowed = wanted.length <= 3 ? 1 : Math.max(2, Math.floor(wanted.length / 3));
	// As many edits as a name has letters turn anything into it.
	return names
		.map(name => ({name, distance: distanceTo(wanted, plain(name))}))
		.filter(({name, distance}) => distance <= allowed && distance < plain(name).length)
		.sort((a, b) => a.distance - b.distance)
		.slice(0, 3)
		.map(({name}) => name);
}

function plain(text: string): string {
	// Longer words than any name are no misspelling; the cap bounds the work on hostile input.
	return text
		.slice(0, 64)
		.toLowerCase()
		.replaceAll(/[\s_-]+/g, '-');
}

/** Ranks a name that contains the text before every misspelling: those are at least one edit away. */
const asPart = 0.5;

/** One or two letters stand in nearly every name. */
const leastPart = 3;

function distanceTo(wanted: string, name: string): number {
	if (wanted.length >= leastPart && name.includes(wanted)) return asPart;
	return editDistance(wanted, name);
}

function editDistance(a: string, b: string): number {
	let beforePrevious: number[] = [];
	let previous = Array.from({length: b.length + 1}, (_, j) => j);
	for (let i = 1; i <= a.length; i++) {
		const current = [i];
		for (let j = 1; j <= b.length; j++) {
			const replaced = previous[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
			current[j] = Math.min(replaced, previous[j] + 1, current[j - 1] + 1);
			if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
				current[j] = Math.min(current[j], beforePrevious[j - 2] + 1);
			}
		}
		beforePrevious = previous;
		previous = current;
	}
	return previous[b.length];
}
