const replacements: Readonly<Record<string, string>> = {
	'–': '-',
	'—': '-',
	'−': '-',
	'…': '...',
	'×': 'x',
	'·': '*',
	'±': '+/-',
	'≤': '<=',
	'≥': '>=',
	'≈': '~',
	'√': 'sqrt',
	'°': ' deg',
	'§': 'section ',
	Ω: ' ohm',
	µ: 'u',
	μ: 'u',
	φ: 'phi',
	σ: 'sigma',
	τ: 'tau',
	π: 'pi',
	θ: 'theta',
	Σ: 'sum ',
	'½': '1/2',
	'¼': '1/4',
	'¾': '3/4',
	Ø: 'dia. ',
	'→': '->',
	'“': '"',
	'”': '"',
	'’': "'",
	'‘': "'",
};

/** Raised digits and minus, each at the place of its plain sign. */
const raised = '⁰¹²³⁴⁵⁶⁷⁸⁹⁻';
const plain = '0123456789-';

/**
 * Our own prose in ASCII only, for `--ascii`: signs and letters we use are spelled out, anything else becomes `?`.
 * Not meant for text from a device, which has to be escaped instead.
 *
 * @example
 * asciiText('10 kΩ ±20 %'); // => '10 kohm +/-20 %'
 */
export function asciiText(text: string): string {
	return text
		.replace(/kΩ/g, 'kohm')
		.replace(/ Ω/g, ' ohm')
		.replace(/[⁰¹²³⁴-⁹⁻]+/g, power => `^${[...power].map(sign => plain[raised.indexOf(sign)]).join('')}`)
		.replace(/[^\n\t -~]/gu, sign => replacements[sign] ?? '?');
}
