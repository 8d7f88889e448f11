/** The characters the dashboard draws with. Every one is one column wide. */
export type Glyphs = {
	/** Solid part of a bar. */
	readonly full: string;
	/** Left parts of a cell, one eighth to seven eighths; ASCII has one for all. */
	readonly eighths: readonly string[];
	/** Within the seen range, not reached now. */
	readonly seen: string;
	/** Outside the seen range. */
	readonly beyond: string;
	readonly rule: string;
	/** Between panels that stand side by side. */
	readonly wall: string;
	/** The row that changed last. */
	readonly pointer: string;
	/** Corners and sides of the stick's field: top left, top right, bottom left, bottom right, across, down. */
	readonly frame: readonly [string, string, string, string, string, string];
	readonly stickNow: string;
	readonly stickRest: string;
	readonly deadZone: string;
	readonly reach: string;
	readonly pressed: string;
	readonly released: string;
	readonly recording: string;
	readonly playing: string;
	readonly held: string;
	readonly next: string;
	readonly findingMark: string;
	readonly noteMark: string;
	readonly position: string;
	/** Proven, or clear. */
	readonly done: string;
	/** Over. */
	readonly over: string;
	/** Not moved yet, or waiting. */
	readonly open: string;
	/** A channel's state: an open pin. */
	readonly unwired: string;
	/** A pull that was seen, and one that is still asked for. */
	readonly pulled: string;
	readonly unpulled: string;
	/** Heights of a histogram's column, low to high. */
	readonly columns: readonly string[];
	/** Line characters for asciichart, one set per series, in its order: ┼ ┤ ╶ ╴ ─ ╰ ╭ ╮ ╯ │. */
	readonly lines: readonly (readonly string[])[];
	/** Axis of a chart. */
	readonly axis: string;
	readonly tick: string;
	readonly dash: string;
	readonly ellipsis: string;
	readonly plusMinus: string;
};

const unicodeGlyphs: Glyphs = {
	full: '█',
	eighths: ['▏', '▎', '▍', '▌', '▋', '▊', '▉'],
	seen: '░',
	beyond: '·',
	rule: '─',
	wall: '│',
	pointer: '▸',
	frame: ['┌', '┐', '└', '┘', '─', '│'],
	stickNow: '●',
	stickRest: '+',
	deadZone: ':',
	reach: '◦',
	pressed: '■',
	released: '□',
	recording: '●',
	playing: '▶',
	held: '‖',
	next: '→',
	findingMark: '▼',
	noteMark: '◆',
	position: '┃',
	done: '✓',
	over: '✓',
	open: '·',
	unwired: '○',
	pulled: '■',
	unpulled: '□',
	columns: ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'],
	lines: [
		['┼', '┤', '╶', '╴', '─', '╰', '╭', '╮', '╯', '│'],
		['┼', '┤', '╺', '╸', '━', '┗', '┏', '┓', '┛', '┃'],
		['┼', '┤', '╶', '╴', '═', '╚', '╔', '╗', '╝', '║'],
		['┼', '┤', '╌', '╌', '╌', '╰', '╭', '╮', '╯', '╎'],
	],
	axis: '─',
	tick: '┴',
	dash: '–',
	ellipsis: '…',
	plusMinus: '±',
};

const asciiGlyphs: Glyphs = {
	full: '#',
	eighths: ['|', '|', '|', '|', '|', '|', '|'],
	seen: '=',
	beyond: '.',
	rule: '-',
	wall: '|',
	pointer: '>',
	frame: ['+', '+', '+', '+', '-', '|'],
	stickNow: '@',
	stickRest: '+',
	deadZone: ':',
	reach: 'o',
	pressed: '#',
	released: '_',
	recording: '*',
	playing: '>',
	held: '=',
	next: '->',
	findingMark: 'v',
	noteMark: '*',
	position: '|',
	done: '+',
	over: '-',
	open: '.',
	unwired: 'o',
	pulled: '#',
	unpulled: '_',
	columns: ['.', '.', ':', ':', '+', '+', '#', '#'],
	lines: [
		['+', '|', '-', '-', '-', '`', '.', '.', "'", '|'],
		['+', '|', '=', '=', '=', '[', '[', ']', ']', '#'],
		['+', '|', '~', '~', '~', '(', '(', ')', ')', ':'],
		['+', '|', '*', '*', '*', '*', '*', '*', '*', '*'],
	],
	axis: '-',
	tick: '+',
	dash: '-',
	ellipsis: '~',
	plusMinus: '',
};

/** Bits of colour a terminal has, in Node's counting: none, 16, 256, or 16 million colours. */
export type ColorDepth = 1 | 4 | 8 | 24;

/** How the dashboard looks on this terminal. */
export type Look = {
	readonly glyphs: Glyphs;
	readonly colorDepth: ColorDepth;
	/** Nothing but ASCII is sent, whatever a text holds. */
	readonly ascii: boolean;
};

export function makeLook(options: {readonly ascii: boolean; readonly colorDepth: ColorDepth}): Look {
	return {glyphs: options.ascii ? asciiGlyphs : unicodeGlyphs, ...options};
}

/**
 * Whether a terminal is to be drawn on with ASCII only: asked for; a terminal whose font holds little more; or a
 * character set other than UTF-8. The locale variables count in the order POSIX gives them: LC_ALL, LC_CTYPE, LANG.
 */
export function wantsAscii(
	asked: boolean,
	environment: Readonly<Record<string, string | undefined>>,
	platform: string = process.platform,
): boolean {
	if (asked) return true;
	if (/^(dumb|linux|vt\d|ansi|cons\d|sun)/.test(environment.TERM ?? '')) return true;
	const locale = environment.LC_ALL || environment.LC_CTYPE || environment.LANG;
	// Windows sets none of these; its terminals take UTF-8.
	if (!locale) return platform !== 'win32' && platform !== 'darwin';
	return !/utf-?8/i.test(locale);
}
