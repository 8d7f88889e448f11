/**
 * A source's name in a report that is passed on: of a path only its last part, since the folders are nobody else's
 * business; at most 60 characters.
 */
export function publicName(name: string): string {
	const last = name.includes('://') || name.startsWith('/dev/') ? name : (name.split(/[/\\]/).pop() ?? name);
	return last.length > 60 ? `${last.slice(0, 59)}…` : last;
}
