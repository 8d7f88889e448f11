type Environment = Readonly<Record<string, string | undefined>>;

/**
 * Whether output to a stream is coloured. In this order: `--no-color`; NO_COLOR set and not empty (no-color.org);
 * FORCE_COLOR set and not empty, where 0 and false mean none; CLICOLOR_FORCE set, not empty and not 0
 * (bixense.com/clicolors, from memory); TERM=dumb; else whether the stream is a terminal.
 */
export function wantsColor(flag: boolean, environment: Environment, isTerminal: boolean): boolean {
	if (!flag || environment.NO_COLOR) return false;
	if (environment.FORCE_COLOR) return environment.FORCE_COLOR !== '0' && environment.FORCE_COLOR !== 'false';
	if (environment.CLICOLOR_FORCE && environment.CLICOLOR_FORCE !== '0') return true;
	return isTerminal && environment.TERM !== 'dumb';
}

/**
 * Whether a terminal is to be written to in ASCII only: asked for; a terminal whose font holds little more; or a
 * character set other than UTF-8. The locale variables count in the order POSIX gives them: LC_ALL, LC_CTYPE, LANG.
 * What goes into a file or a pipe is the same everywhere: there only the option counts.
 */
export function wantsAscii(
	asked: boolean,
	environment: Environment,
	isTerminal: boolean,
	platform: string = process.platform,
): boolean {
	if (asked || !isTerminal) return asked;
	if (/^(dumb|linux|vt\d|ansi|cons\d|sun)/.test(environment.TERM ?? '')) return true;
	const locale = environment.LC_ALL || environment.LC_CTYPE || environment.LANG;
	// Windows sets none of these; its terminals take UTF-8.
	if (!locale) return platform !== 'win32' && platform !== 'darwin';
	return !/utf-?8/i.test(locale);
}

/**
 * A number of columns or lines from the environment (POSIX, COLUMNS and LINES): it counts more than the terminal's own,
 * for every command alike. Undefined where nothing usable is set.
 */
export function sizeFrom(text: string | undefined): number | undefined {
	return text !== undefined && /^[1-9]\d{0,3}$/.test(text) ? Number(text) : undefined;
}
