/**
 * Whether output to a stream is coloured. In this order: `--no-color`; NO_COLOR set and not empty (no-color.org);
 * FORCE_COLOR set and not empty, where 0 and false mean none; TERM=dumb; else whether the stream is a terminal.
 */
export function wantsColor(
	flag: boolean,
	environment: Readonly<Record<string, string | undefined>>,
	isTerminal: boolean,
): boolean {
	if (!flag || environment.NO_COLOR) return false;
	if (environment.FORCE_COLOR) return environment.FORCE_COLOR !== '0' && environment.FORCE_COLOR !== 'false';
	return isTerminal && environment.TERM !== 'dumb';
}
