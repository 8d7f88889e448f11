/** A character as TOML writes it in a basic string: four hexadecimal digits, or eight. */
export function tomlEscape(codePoint: number): string {
	const digits = codePoint.toString(16);
	return codePoint > 0xffff ? `\\U${digits.padStart(8, '0')}` : `\\u${digits.padStart(4, '0')}`;
}
