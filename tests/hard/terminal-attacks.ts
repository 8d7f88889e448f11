/**
 * One of each class of what a terminal obeys, or what makes it show something else than was sent. Classes and clauses:
 * ECMA-48, 5th edition (clause numbers of single functions from memory); the rest as named.
 */
export const attacks: readonly (readonly [what: string, source: string, text: string])[] = [
	['BEL', 'C0, 5.2; 8.3.3', '\u0007'],
	['BS', 'C0, 5.2; 8.3.5', 'all is well\b\b\b\bill'],
	['CR', 'C0, 5.2; 8.3.15', 'stuck\rhealthy'],
	['HT and VT', 'C0, 5.2; 8.3.60, 8.3.161', 'a\tb\u000bc'],
	['FF', 'C0, 5.2; 8.3.51', '\u000c'],
	['SO and SI', 'C0, 5.2; 8.3.126, 8.3.119', '\u000eq\u000f'],
	['CAN and SUB', 'C0, 5.2; 8.3.6, 8.3.148', '\u0018\u001a'],
	['DLE and NUL', 'C0, 5.2', '\u0010\u0000'],
	['DEL', 'ECMA-6', '\u007f'],
	['a lone ESC', 'C0, 5.2; 8.3.48', '\u001b'],
	['IND, NEL, RI in 7 bits', 'C1, 5.3', '\u001bD\u001bE\u001bM'],
	['NEL and RI in 8 bits', 'C1, 5.3; 8.3.86, 8.3.104', '\u0085\u008d'],
	['RIS', 'independent control function, 5.5; 8.3.105', '\u001bc'],
	['ED and CUP', 'control sequence, 5.4; 8.3.39, 8.3.21', '\u001b[2J\u001b[1;1H'],
	['SGR', 'control sequence, 5.4; 8.3.117', '\u001b[8mhidden\u001b[0m'],
	['SGR behind an 8-bit CSI', 'C1, 5.3; 8.3.16', '\u009b31mred\u009b0m'],
	['DA', 'control sequence, 5.4; 8.3.24', '\u001b[c\u001b[>c\u001b[=c'],
	['DSR', 'control sequence, 5.4; 8.3.35', '\u001b[5n\u001b[6n\u001b[?6n'],
	['DECRQSS', 'device control string, 5.6; 8.3.27', '\u001bP$q"p\u001b\\'],
	['DCS in 8 bits', 'device control string, 5.6', '\u0090q#0\u009c'],
	['OSC 0: title', 'control string, 5.6; 8.3.89', '\u001b]0;owned\u0007'],
	['OSC 8: link', 'control string, 5.6', '\u001b]8;;http://evil.example\u001b\\click\u001b]8;;\u001b\\'],
	['OSC 52: clipboard', 'control string, 5.6', '\u001b]52;c;cm0gLXJm\u001b\\'],
	['OSC in 8 bits', 'control string, 5.6', '\u009d0;owned\u009c'],
	['SOS', 'character string, 5.6; 8.3.128', '\u001bXsos\u001b\\\u0098sos\u009c'],
	['PM', 'control string, 5.6; 8.3.94', '\u001b^pm\u001b\\\u009epm\u009c'],
	['APC', 'control string, 5.6; 8.3.2', '\u001b_apc\u001b\\\u009fapc\u009c'],
	['a string that never ends', 'control string, 5.6', '\u001bPq'],
	['SS2 and SS3', 'C1, 5.3; 8.3.141, 8.3.142', '\u001bN!\u001bO!\u008e!\u008f!'],
	['designating sets', 'ECMA-35, as 5.1 refers to it', '\u001b(0lqk\u001b(B'],
	['private modes', 'private parameters, 5.4 c', '\u001b[?1049h\u001b[?25l\u001b[?1003h'],
	['bracketed paste', 'xterm control sequences', '\u001b[200~rm -rf ~\u001b[201~'],
	['window operations', 'xterm control sequences', '\u001b[21t\u001b[8;1;1t'],
	['key of the user', 'DECUDK, VT220 manual', '\u001bP0;1|17/6C73\u001b\\'],
	['bidi overrides', 'Unicode TR 36', 'a\u202eb\u202dc\u202ad\u202be\u202c'],
	['bidi isolates', 'Unicode TR 36', 'a\u2066b\u2067c\u2068d\u2069\u200e\u200f\u061c'],
	['zero width', 'Unicode TR 36', 'mid\u200bdle\u200c\u200d\u2060\ufeff\u00ad'],
	['line and paragraph separator', 'Unicode 5.8', 'a\u2028b\u2029c'],
	['fillers and selectors', 'Unicode, Default_Ignorable_Code_Point', 'a\u3164\u115f\u034f\ufe0f\u180e'],
	['tags', 'Unicode, Default_Ignorable_Code_Point', 'a\u{e0041}\u{e007f}'],
	['a flood of marks', 'Unicode TR 36', `a${'\u0301\u0489'.repeat(40)}`],
	['marks on nothing', 'Unicode TR 36', '\n\u0336\u20dd'],
	['half a character', 'Unicode 3.8', '\ud83e x \udde4'],
	['private use and noncharacters', 'Unicode 23', '\ue000\u{f0000}\ufffe'],
];

/** All of them in a text, each between plain words. */
export const allAttacks = attacks.map(([, , text], index) => `x${index} ${text} y`).join(' ');

/**
 * What of a text a terminal must not be sent: every control character but LF, and whatever hides, reorders or piles up.
 * Written from the standards, not from the program's own patterns.
 */
const obeyed = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/u;
const hiding = new RegExp(
	`[${[
		'\\u{ad}\\u{61c}\\u{115f}\\u{1160}\\u{180e}\\u{200b}-\\u{200f}\\u{2028}-\\u{202e}\\u{2060}-\\u{206f}\\u{3164}\\u{feff}\\u{ffa0}\\u{fff0}-\\u{fffc}',
		'\\u{d800}-\\u{dfff}\\u{e000}-\\u{f8ff}\\u{e0000}-\\u{e0fff}\\u{f0000}-\\u{10ffff}',
	].join('')}]|\\u{34f}|[\\u{17b4}\\u{17b5}]|[\\u{180b}-\\u{180d}\\u{180f}]|[\\u{fe00}-\\u{fe0f}]`,
	'u',
);
const piling = /\p{M}{3}|^\p{M}/mu;

/** What our own code may send besides text. */
export const ownSequences = {
	none: /(?!)/g,
	/** Select graphic rendition (ECMA-48 8.3.117). */
	colour: /\u001b\[[\d;]*m/g,
	/** The painter's: SGR, CUP, ED, EL, and the modes for screen, cursor and whole frames; a bell. */
	screen: /\u001b\[(?:[\d;]*[mHJK]|\?(?:1049|25|2026)[hl])|\u0007/g,
} as const;

/** Says where something dangerous stands in what was written, with what is around it; undefined where nothing does. */
export function dangerIn(output: string, own: RegExp = ownSequences.none): string | undefined {
	const text = output.replace(own, '');
	for (const pattern of [obeyed, hiding, piling]) {
		const match = pattern.exec(text);
		if (match) return `${pattern}: ${JSON.stringify(text.slice(Math.max(0, match.index - 60), match.index + 40))}`;
	}

	return undefined;
}
