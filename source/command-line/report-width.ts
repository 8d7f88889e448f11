/** Narrower than a report can be read, and wider than lines of prose are. */
const narrowest = 60;
const widest = 120;
const usual = 80;

/**
 * Columns of a report, 60 to 120: those that COLUMNS asks for (POSIX, environment variables), else the terminal's, else
 * 80, as where a report goes to a file or a pipe.
 */
export function reportWidth(environment: Readonly<Record<string, string | undefined>>, columns?: number): number {
	const asked = /^[1-9]\d{0,5}$/.test(environment.COLUMNS ?? '') ? Number(environment.COLUMNS) : columns;
	return asked === undefined || !(asked > 0) ? usual : Math.min(widest, Math.max(narrowest, asked));
}
