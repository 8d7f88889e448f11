/** What start-up texts of the usual chips and of firmware say. From public serial logs and vendors' reset-reason tables. */
const known = [
	/^ets [A-Z][a-z]{2} +\d+ \d{4}/,
	/\brst:0x[0-9a-f]+/i,
	/\bboot:0x[0-9a-f]+/i,
	/^(configsip|clk_drv|mode:|load:0x|ho \d+ tail|entry 0x|csum 0x|Build:|SPIWP:|ESP-ROM)/,
	/brown-?out/i,
	/guru meditation/i,
	/rebooting/i,
	/\bets_main\.c\b/,
	/flash read err/i,
	/watchdog|wdt reset|panic/i,
];

/** Words of home-made banners. They only count after a pause, because a debug print may use them too. */
const words =
	/\b(boot(ed|ing)?|start(ed|ing|s|up)?|re-?start(ed|ing)?|reset|ready|hello|init(ialis|ializ)?\w*|calibrat\w*|version|firmware|v\d+\.\d+)\b/i;

/** A board that starts again says nothing for at least this long. */
const pauseSeconds = 0.25;

/**
 * Whether a line that is no frame is what a board says when it starts. `pause` is the time since the last frame in
 * seconds; `banner` holds the lines that came before the first frame.
 */
export function isStartUpText(text: string, pause: number, banner: readonly string[]): boolean {
	if (known.some(pattern => pattern.test(text))) return true;
	if (banner.includes(text) && text.length >= 4 && /[a-z]/i.test(text)) return true;
	return pause >= pauseSeconds && words.test(text);
}
