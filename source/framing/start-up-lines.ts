/**
 * Lines that boot loaders print. They carry numbers, commas and labels (`load:0x3fff0018,len:4`), repeat in a restart
 * loop, and are never readings.
 *
 * Source: public serial logs and the makers' reset-reason tables.
 */
const bootLines: readonly RegExp[] = [
	/^\s*ets [A-Z][a-z]{2} +\d+ \d{4}/,
	/\brst:0x[0-9a-f]+|\brst cause:\d|\bboot mode:\(|\bboot:0x[0-9a-f]+/i,
	/^\s*(configsip:|clk_drv:|mode:[A-Z]+,|load:?\s?0x|ho \d+ tail|entry 0x|csum 0x|chksum 0x|tail \d+$|SPIWP:|ESP-ROM:|Build:|Saved PC:)/i,
	/^\s*(?:\u001b\[[\d;]*m)?[EWIDV] \(\d+\) [\w.-]+:/,
	/\bets_main\.c\b|flash read err|brown-?out|guru meditation|rebooting\.\.\.|backtrace:/i,
	/^\s*(?:PC|A\d{1,2}|EPC\d|EXCVADDR|SAR|LBEG|PS|EXCCAUSE|LEND|LCOUNT)\s*:\s*0x[0-9a-f]{8}\b/i,
];

/** Whether a line is what a boot loader or a crashing firmware says. */
export function isBootLine(text: string): boolean {
	return bootLines.some(pattern => pattern.test(text));
}
