/** Slowest and fastest symbol rate that a sheet, an option or a recording may name; what is beyond is a mistake or damage. */
export const baudRange = {least: 50, most: 12_000_000} as const;
