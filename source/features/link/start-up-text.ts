/** What start-up texts of the usual chips say. From public serial logs and vendors' reset-reason tables. */
const known = [
	/ets [A-Z][a-z]{2} +\d+ \d{4}/,
	/\brst:0x[0-9a-f]+/i,
	/\bboot:0x[0-9a-f]+/i,
	/\b(configsip: |clk_drv:0x|load:0x[0-9a-f]+,len|ho \d+ tail|entry 0x|csum 0x|SPIWP:0x|ESP-ROM:)/,
	/brown-?out/i,
	/guru meditation/i,
	/\bets_main\.c\b/,
	/flash read err/i,
	/\b(wdt|watchdog) reset\b/i,
	/rebooting\.\.\./i,
];

/** Words of home-made banners. Debug prints use them too: they tell nothing of a text that is not known from the start. */
const words =
	/\b(boot(ed|ing)?|start(ed|ing|s|up)?|re-?start(ed|ing)?|reset|ready|hello|init(ialis|ializ)?\w*|calibrat\w*|version|firmware|v\d+\.\d+)\b/i;

/** A text that tells of a supply that sagged. */
const sag = /brown.?out|supply|voltage|sag/i;

/** Whether a chip itself says this when it starts, wherever in the line: it may be glued to a cut frame. */
export function isBootText(text: string): boolean {
	return known.some(pattern => pattern.test(text));
}

/** Whether a text that came before the first frame is worded as start-up texts are. */
export function soundsLikeStart(text: string): boolean {
	return words.test(text);
}

/** Whether a text tells of a supply that sagged. */
export function tellsOfSag(text: string): boolean {
	return sag.test(text);
}
