/**
 * What a board's own logging puts before each line, with the priority and the time since it started:
 *
 * - `I (1234) glove: `, `I (09:14:07.112) glove: ` (ESP-IDF Programming Guide, "Logging library")
 * - `[  1234][I][glove.ino:42] loop(): ` (the same chip's other core; form as its source prints it, from memory)
 * - `[00:00:01.234,567] <inf> glove: ` (Zephyr documentation, "Logging")
 * - `[INFO] `, `INFO: `, `DEBUG - `: common practice, no source
 */
const heads =
	/^(?:[EWIDV] \(([\d:.]{1,18})\) [^\s:]{1,40}: ?|\[ {0,9}(\d{1,12})\]\[[EWIDV]\](?:\[[^\]]{1,60}\] ?)?(?:[\w.<>~]{1,40}\(\): ?)?|\[([\d:.,]{1,20})\] <(?:err|wrn|inf|dbg)> [^\s:]{1,40}: ?|(?:\[ ?(?:LOG|INFO|WARN(?:ING)?|ERR(?:OR)?|DEBUG|DBG|TRACE|VERBOSE|NOTICE|FATAL|CRITICAL) ?\] ?:? ?|(?:INFO|WARN(?:ING)?|ERROR|DEBUG|TRACE|VERBOSE|NOTICE|FATAL|CRITICAL)(?: ?: ?| [-|>] ?))(?:[A-Za-z][\w.-]{0,30}: (?=[A-Za-z[({]))?)/i;

/** Only so much of a line is looked at. */
const longestHead = 128;

const first = new Uint8Array(128);
for (const character of 'EWIDVFTNCLewidvftncl[') first[character.charCodeAt(0)] = 1;

/** Where the line proper begins behind a logger's head; `start` where there is none. */
export function afterLoggerHead(bytes: Uint8Array, start: number, end: number): number {
	if (bytes[start] >= 0x80 || first[bytes[start]] === 0) return start;
	let text = '';
	const limit = Math.min(end, start + longestHead);
	for (let i = start; i < limit; i++) text += String.fromCharCode(bytes[i]);
	return start + (heads.exec(text)?.[0].length ?? 0);
}
