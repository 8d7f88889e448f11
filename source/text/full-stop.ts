/** A sentence with its full stop, whether or not it came with one. */
export function fullStop(text: string): string {
	return /[.?!]$/.test(text) ? text : `${text}.`;
}
